/** How does a number, a moment, a day stand in this maker's language? The phone's locale, the workshop's time zone. */
import { signal } from "@preact/signals";
import { now } from "../clock";
import { dayIn } from "./rules";
import * as words from "./words";

/** undefined: the phone's own locale */
export const locale = signal<string | undefined>(undefined);
/** IANA name; undefined: the phone's own zone, until the workshop's is known */
export const timeZone = signal<string | undefined>(undefined);

export interface Place {
  locale?: string | undefined;
  timeZone?: string | undefined;
}

const kept = new Map<string, unknown>();

/** Intl objects are slow to make and are asked for at every minute's tick. */
function made<T>(
  kind: string,
  place: Place | undefined,
  make: (locale: string | undefined, zone: string | undefined) => T,
  more = "",
): T {
  const l = place?.locale ?? locale.value;
  const z = place?.timeZone ?? timeZone.value;
  const key = [kind, l, z, more].join("|");
  const found = kept.get(key) as T | undefined;
  if (found !== undefined) return found;
  const fresh = make(l, z);
  kept.set(key, fresh);
  return fresh;
}

/** `digits`: exactly so many after the point; absent: as many as it has, at most 3. */
export function number(n: number, digits?: number, place?: Place): string {
  return made(
    "number",
    place,
    (l) =>
      new Intl.NumberFormat(
        l,
        digits == null
          ? { maximumFractionDigits: 3 }
          : { minimumFractionDigits: digits, maximumFractionDigits: digits },
      ),
    String(digits),
  ).format(n);
}

/** What a person typed, by the locale's own point; null when it is no number. */
export function parseNumber(typed: string, place?: Place): number | null {
  const parts = made("parts", place, (l) => new Intl.NumberFormat(l).formatToParts(-12345.6));
  const point = parts.find((p) => p.type === "decimal")?.value ?? ".";
  const group = parts.find((p) => p.type === "group")?.value ?? "";
  let plain = typed
    .trim()
    .replace(/[\s\u00a0\u202f]/g, "")
    .replace("\u2212", "-");
  if (group && !/\s/.test(group) && plain.includes(point)) plain = plain.split(group).join("");
  else if (group && new RegExp(`^-?\\d{1,3}(\\${group}\\d{3})+$`).test(plain))
    plain = plain.split(group).join("");
  plain = plain.replace(point, ".").replace(",", ".");
  return /^-?(\d+\.?\d*|\.\d+)$/.test(plain) ? Number(plain) : null;
}

/** Money with the workshop's currency (ISO 4217). */
export function money(amount: number, currency: string, place?: Place): string {
  return made(
    "money",
    place,
    (l) => new Intl.NumberFormat(l, { style: "currency", currency, currencyDisplay: "code" }),
    currency,
  ).format(amount);
}

/** "14:06", or as the locale has it. `at`: an instant (RFC 3339) or ms. */
export function clockTime(at: string | number, place?: Place): string {
  return made(
    "clock",
    place,
    (l, z) => new Intl.DateTimeFormat(l, { hour: "numeric", minute: "2-digit", timeZone: z }),
  ).format(new Date(at));
}

/** Further away than this, a day is said with its year. */
const HALF_A_YEAR_MS = 183 * 86_400_000;

/** "Wed 25 Nov" by the locale. `at`: an instant or ms, in the workshop's zone; or a calendar day "2026-11-25". */
export function day(at: string | number, place?: Place): string {
  const isDay = typeof at === "string" && isCalendarDay(at);
  const on = new Date(isDay ? `${at}T12:00:00Z` : at);
  const year = Math.abs(on.getTime() - now()) > HALF_A_YEAR_MS ? "numeric" : undefined;
  return made(
    "day",
    isDay ? { ...place, timeZone: "UTC" } : place,
    (l, z) =>
      new Intl.DateTimeFormat(l, {
        weekday: "short",
        day: "numeric",
        month: "short",
        ...(year && { year }),
        timeZone: z,
      }),
    year,
  )
    .format(on)
    .replaceAll(",", "");
}

const DAY_MS = 86_400_000;

/** "14:06" for what is near; with its day, "Sun 14:06" or "Wed 2 Dec 14:06", from 20 hours away. */
export function near(at: string | number, place?: Place): string {
  const away_ms = Math.abs(new Date(at).getTime() - now());
  const on = away_ms < 6 * DAY_MS ? weekday(at, "short", place) : day(at, place);
  return (away_ms < DAY_MS / 1.2 ? "" : `${on} `) + clockTime(at, place);
}

/** "Monday", or short "Mon", in the workshop's zone; a calendar day as it is. */
export function weekday(at: string | number, form: "long" | "short" = "long", place?: Place): string {
  const isDay = typeof at === "string" && isCalendarDay(at);
  const where = isDay ? { ...place, timeZone: "UTC" } : place;
  const format = made(
    "weekday",
    where,
    (l, z) => new Intl.DateTimeFormat(l, { weekday: form, timeZone: z }),
    form,
  );
  return format.format(new Date(isDay ? `${at}T12:00:00Z` : at));
}

function isCalendarDay(text: string): boolean {
  return /^\d{4}-\d\d-\d\d$/.test(text);
}

/** The calendar day of an instant in the workshop: "2026-11-25". */
export function dayOf(at: string | number, place?: Place): string {
  return dayIn(place?.timeZone ?? timeZone.value ?? "", at);
}

/** "16 min": whole minutes, the number by the locale, the word by ours (CLDR's British form says "mins"). */
export function minutes(n: number, place?: Place): string {
  return words.minutes(number(n, 0, place));
}

/** A small count in words: "six", "24". */
export const few = (n: number): string => words.small[n] ?? number(n);

/** With a large first letter. */
export const sentence = (text: string): string => text.charAt(0).toUpperCase() + text.slice(1);

/** A wait as people say it: "16 min", "2 h 5 min". */
export function wait(total_min: number, place?: Place): string {
  const whole = Math.round(Math.abs(total_min));
  const hours = Math.trunc(whole / 60);
  if (hours === 0) return minutes(whole, place);
  const said = words.hours(number(hours, 0, place));
  return whole % 60 === 0 ? said : `${said} ${minutes(whole % 60, place)}`;
}

const ours: Place = { locale: words.language };

/** "a, b and c" */
export function list(items: readonly string[]): string {
  return made("list", ours, (l) => new Intl.ListFormat(l)).format(items);
}

/** Which of the forms goes with n; `other` is always given. */
export function plural(
  n: number,
  forms: { other: string } & Partial<Record<Intl.LDMLPluralRule, string>>,
): string {
  const rule = made("plural", ours, (l) => new Intl.PluralRules(l)).select(n);
  return forms[rule] ?? forms.other;
}

/** "1 piece", "24 pieces" */
export const pieceCount = (n: number): string => `${number(n)} ${plural(n, words.piece)}`;
