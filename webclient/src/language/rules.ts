/** Which calendar day and which hour is it, in a place's time zone? */

const DAY_MS = 86_400_000;
/** No zone has changed its clocks within a quarter of an hour since 1972 (IANA zone data). */
const QUARTER_MS = 900_000;
const MOST_KEPT = 20_000;

const zones = new Map<string, Intl.DateTimeFormat>();
const kept = new Map<string, string>();

/**
 * The calendar day ("2026-11-25") of an instant in an IANA time zone; "" is the phone's own. An unreadable
 * instant is an error. Remembered by the quarter of an hour: counts ask for thousands of days at a tap.
 */
export function dayIn(zone: string, at: string | number): string {
  const ms = typeof at === "number" ? at : Date.parse(at);
  const key = `${zone} ${Math.floor(ms / QUARTER_MS)}`;
  const known = kept.get(key);
  if (known !== undefined) return known;
  if (kept.size >= MOST_KEPT) kept.clear();
  const day = dayShown(zone, ms);
  kept.set(key, day);
  return day;
}

function dayShown(zone: string, ms: number): string {
  let format = zones.get(zone);
  if (format === undefined) {
    format = new Intl.DateTimeFormat("en-u-ca-gregory-nu-latn", {
      ...(zone === "" ? {} : { timeZone: zone }),
      year: "numeric",
      month: "2-digit",
      day: "2-digit",
    });
    zones.set(zone, format);
  }
  const parts: Record<string, string> = {};
  for (const part of format.formatToParts(new Date(ms))) parts[part.type] = part.value;
  return `${parts["year"]?.padStart(4, "0")}-${parts["month"]}-${parts["day"]}`;
}

const dayNumber = (day: string): number => Math.round(Date.parse(`${day}T00:00:00Z`) / DAY_MS);

/** A calendar day so many days on. A day is a square on the calendar: no change of the clocks touches it. */
export function addDays(day: string, days: number): string {
  return new Date((dayNumber(day) + days) * DAY_MS).toISOString().slice(0, 10);
}

export const daysBetween = (from: string, to: string): number => dayNumber(to) - dayNumber(from);

/** Noon of a calendar day in a zone, as an instant: where only the day of something is known. */
export const noonOf = (day: string, zone: string): string => instantIn(zone, day, "12:00");

/** The instant at which clocks in a zone show a day and a time ("18:30"); in an hour that the clocks left out, one beside it. */
export function instantIn(zone: string, day: string, clock: string): string {
  const wall = Date.parse(`${day}T${clock}:00Z`);
  let at = wall;
  for (let turn = 0; turn < 2; turn += 1) at = wall - (wallTime(zone, at) - at);
  return new Date(at).toISOString();
}

/** What a clock on the wall shows at an instant, as if it were UTC. */
function wallTime(zone: string, at: number): number {
  const parts = new Intl.DateTimeFormat("en-u-ca-gregory-nu-latn-hc-h23", {
    timeZone: zone,
    year: "numeric",
    month: "numeric",
    day: "numeric",
    hour: "numeric",
    minute: "numeric",
    second: "numeric",
  }).formatToParts(new Date(at));
  const of = (type: string): number => Number(parts.find((part) => part.type === type)?.value ?? 0);
  return Date.UTC(of("year"), of("month") - 1, of("day"), of("hour"), of("minute"), of("second"));
}

/** Exactly, since the international yard of 1959. */
export const MM_PER_INCH = 25.4;
