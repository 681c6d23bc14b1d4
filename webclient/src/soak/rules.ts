/** When is it ready, how far has the water come, what did this maker find, what goes in next? Times in ms since 1970. */
import type { Mark, Purpose, Soak, SoakHabit, Water } from "./model";

/** Starting values in seconds; common practice, no source. Water at room temperature goes with cold. */
export const PRACTICE_S: Readonly<Record<Water, number>> = {
  warm: 1800,
  room: 14400,
  cold: 14400,
  overnight: 36000,
};

/** What the presets mean, °C; common practice, no source. */
export const PRESET_C: Readonly<Record<Water, number>> = { cold: 12, room: 20, warm: 38, overnight: 20 };

/** Hotter than this scalds hands and cane; the caution on the screen names it. */
export const HOTTEST_C = 60;

/** A clock that is off by no more than this is taken as it is: the exchange measures no finer. */
const CLOCK_MS = 600_000;

/** Soaks that follow each other this closely belong to one row, where no plan says so. */
const SAME_ROW_MS = 4 * 3600_000;

/** Planned seconds for this water, and whose figure it is. */
export function planned(water: Water, habit: SoakHabit): { soak_s: number; by: "habit" | "practice" } {
  const said = water === "warm" ? habit.warm_s : water === "overnight" ? habit.overnight_s : habit.cold_s;
  if (said !== null && said > 0) return { soak_s: said, by: "habit" };
  return { soak_s: PRACTICE_S[water], by: "practice" };
}

/** The instant it went in, with the clock's known difference taken off; null: nobody said. */
export function putInAt(soak: Soak): number | null {
  return corrected(soak.put_in, soak.put_in_skew_ms);
}

/** The instant it is ready; null where its start or its time is not known. */
export function readyAt(soak: Soak): number | null {
  const put_in = putInAt(soak);
  return put_in === null || soak.soak_s <= 0 ? null : put_in + soak.soak_s * 1000;
}

export function takenOutAt(soak: Soak): number | null {
  return corrected(soak.taken_out, soak.taken_out_skew_ms);
}

/** Now, by the workshop's clock as far as this phone knows it. `clock_off_ms`: how far the phone is ahead. */
export function trueNow(now: number, clock_off_ms: number | null): number {
  return now - off(clock_off_ms);
}

function off(skew_ms: number | null): number {
  return skew_ms !== null && Math.abs(skew_ms) > CLOCK_MS ? skew_ms : 0;
}

function corrected(said: string | null, skew_ms: number | null): number | null {
  return said === null ? null : Date.parse(said) - off(skew_ms);
}

/** Seconds in water: until it was taken out, else until now. Never below 0. */
export function inWater_s(soak: Soak, now: number): number {
  const put_in = putInAt(soak);
  if (put_in === null) return 0;
  return Math.max(0, ((takenOutAt(soak) ?? now) - put_in) / 1000);
}

/** Share of the planned time, 0 to 1: how dark the strip is drawn. By practice; it measures nothing. */
export function wetShare(soak: Soak, now: number): number {
  if (soak.soak_s <= 0) return 0;
  return Math.min(1, inWater_s(soak, now) / soak.soak_s);
}

/** What this maker found in one lot and water, seconds in water; null: no such mark. */
export interface Marks {
  good_s: number | null;
  too_soft_s: number | null;
  still_hard_s: number | null;
}

/** The newest good mark, the earliest too soft, the longest still hard, of this lot in this water for this purpose. */
export function marksOf(
  soaks: readonly Soak[],
  of: { lot: string | null; water: Water; purpose: Purpose },
): Marks {
  const times = (mark: Mark): number[] =>
    soaks
      .filter(
        (soak) =>
          soak.mark === mark && soak.lot === of.lot && soak.water === of.water && soak.purpose === of.purpose,
      )
      .filter((soak) => putInAt(soak) !== null && takenOutAt(soak) !== null)
      .sort((a, b) => (takenOutAt(a) ?? 0) - (takenOutAt(b) ?? 0))
      .map((soak) => inWater_s(soak, 0));
  const soft = times("too_soft");
  const hard = times("still_hard");
  return {
    good_s: times("good").at(-1) ?? null,
    too_soft_s: soft.length > 0 ? Math.min(...soft) : null,
    still_hard_s: hard.length > 0 ? Math.max(...hard) : null,
  };
}

export type SoakState = "not_in" | "in_water" | "ready" | "over" | "drying" | "out";

/** `over` needs the maker's own mark: practice never calls a piece too soft. */
export function stateOf(soak: Soak, now: number, marks: Marks): SoakState {
  const put_in = putInAt(soak);
  if (put_in === null) return "not_in";
  if (isDrying(soak)) return "drying";
  if (soak.taken_out !== null) return "out";
  if (marks.too_soft_s !== null && now - put_in >= marks.too_soft_s * 1000) return "over";
  const ready = readyAt(soak);
  return ready !== null && now >= ready ? "ready" : "in_water";
}

/** Laid in the air to dry back a little, and not yet said to be dry enough. */
export function isDrying(soak: Soak): boolean {
  return soak.drying_since !== null && soak.dried_at === null;
}

export function isInWater(soak: Soak): boolean {
  return soak.put_in !== null && soak.taken_out === null && soak.drying_since === null;
}

/** Those in the water, the one that is ready first at the top. */
export function inTheWater(soaks: readonly Soak[]): Soak[] {
  return soaks
    .filter(isInWater)
    .sort((a, b) => (readyAt(a) ?? 0) - (readyAt(b) ?? 0) || (a.id < b.id ? -1 : 1));
}

/** The last one taken out within `within_s` that has no mark yet: "how did it cut?" */
export function toBeMarked(soaks: readonly Soak[], now: number, within_s = 12 * 3600): Soak | null {
  const out = soaks
    .filter((soak) => soak.mark === null && takenOutAt(soak) !== null && !isDrying(soak))
    .filter((soak) => now - (takenOutAt(soak) ?? 0) < within_s * 1000)
    .sort((a, b) => (takenOutAt(a) ?? 0) - (takenOutAt(b) ?? 0));
  return out.at(-1) ?? null;
}

/** The lowest number that no jar in use carries. */
export function freeJar(soaks: readonly Soak[]): string {
  const used = new Set(soaks.filter(isInWater).map((soak) => soak.jar));
  for (let number = 1; ; number += 1) if (!used.has(String(number))) return String(number);
}

/** What goes in: one group now, and where `of_pieces` is more, the others `every_s` apart. */
export interface PutIn {
  purpose: Purpose;
  pieces: number | null;
  of_pieces: number | null;
  every_s: number | null;
  /** the first soak of the row that it goes on with; null: it begins one, or goes in by itself */
  run: string | null;
  lot: string | null;
  batch: string | null;
  water: Water;
  water_c: number | null;
  soak_s: number;
}

/** Those of one `run`, or, where no plan says so, of one batch soon after each other. Each row first to last. */
function rowsOf(soaks: readonly Soak[]): { newest: Soak[]; all: Set<Soak[]> } {
  const rows = new Map<string, Soak[]>();
  let newest: Soak[] = [];
  const at = (soak: Soak): number => putInAt(soak) ?? 0;
  const went_in = soaks.filter((soak) => putInAt(soak) !== null).sort((a, b) => at(a) - at(b));
  for (const soak of went_in) {
    const alike = [soak.batch, soak.purpose, soak.water].join();
    const by_itself = soak.run === null && soak.of_pieces === null && soak.batch !== null;
    const close = by_itself ? rows.get(alike) : undefined;
    const goes_on = close && at(soak) - at(close.at(-1) ?? soak) <= SAME_ROW_MS ? close : [];
    newest = rows.get(soak.run ?? soak.id) ?? goes_on;
    newest.push(soak);
    rows.set(soak.run ?? soak.id, newest).set(alike, newest);
  }
  return { newest, all: new Set(rows.values()) };
}

/** The newest soak, and those that went in with it: first to last. */
export const lastRow = (soaks: readonly Soak[]): Soak[] => rowsOf(soaks).newest;

/** As last time: the same number in the same water, staggered as it was then. Null: there was no last time. */
export function asLastTime(soaks: readonly Soak[]): PutIn | null {
  const row = lastRow(soaks);
  const first = row[0];
  if (first === undefined) return null;
  const gaps = row
    .slice(1)
    .map((soak, index) => ((putInAt(soak) ?? 0) - (putInAt(row[index] as Soak) ?? 0)) / 1000);
  const total = row.reduce((sum, soak) => sum + (soak.pieces ?? 0), 0);
  const of_pieces = Math.max(first.of_pieces ?? 0, total);
  const staggered = first.pieces !== null && of_pieces > first.pieces;
  return {
    purpose: first.purpose,
    pieces: first.pieces,
    of_pieces: staggered ? of_pieces : null,
    every_s: staggered ? (first.every_s ?? wholeMinutes_s(gaps)) : null,
    run: null,
    lot: first.lot,
    batch: first.batch,
    water: first.water,
    water_c: first.water_c,
    soak_s: first.soak_s,
  };
}

function wholeMinutes_s(gaps_s: number[]): number {
  const middle = [...gaps_s].sort((a, b) => a - b)[Math.floor(gaps_s.length / 2)] ?? 0;
  return Math.max(60, Math.round(middle / 60) * 60);
}

export interface Group {
  at: number;
  pieces: number;
  /** those of its row that are in, first to last */
  row: Soak[];
}

/** Of all staggered rows under way the group that is due first; null: all are in, or their rows were broken off. */
export function nextGroup(soaks: readonly Soak[], now: number): Group | null {
  let next: Group | null = null;
  for (const row of rowsOf(soaks).all) {
    const [first, last] = [row[0], row.at(-1)];
    if (!last || first?.of_pieces == null || first.every_s === null || first.pieces === null) continue;
    const left = first.of_pieces - row.reduce((sum, soak) => sum + (soak.pieces ?? 0), 0);
    const at = (putInAt(last) ?? 0) + first.every_s * 1000;
    if (left <= 0 || now - at > SAME_ROW_MS || (next && next.at <= at)) continue;
    next = { at, pieces: Math.min(left, first.pieces), row };
  }
  return next;
}

/** Sizes of the groups of a row: 6, 6, 6, 2. */
export function groups(of_pieces: number, each: number): number[] {
  const sizes: number[] = [];
  for (let left = of_pieces; left > 0; left -= each) sizes.push(Math.min(left, each));
  return sizes;
}

/** Is there a reason to ask "put in at 13:36?": in the future, or in the water for more than two days. */
export function putInLooksWrong(soak: Soak, now: number): boolean {
  const put_in = putInAt(soak);
  if (put_in === null || !isInWater(soak)) return false;
  return put_in - now > 60_000 || now - put_in > 2 * 86_400_000;
}
