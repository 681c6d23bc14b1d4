// In how many days is so much more done, and on which quiet day is a blade changed? By the pace that the server found.

import { addDays } from "../language/rules";
import type { Value } from "../logbook/model";
import { whereReached } from "../workshop/foreseen_rules";
import type { Due } from "./rules";

/** `events` came in `exposure_days`; `per_event` pieces count as one, for they come by the batch. */
export interface Pace {
  events: number;
  exposure_days: number;
  per_event: number;
}

export function readPace(value: Value | undefined): Pace | null {
  if (typeof value !== "object" || value === null || Array.isArray(value)) return null;
  const { events, exposure_days, per_event } = value;
  const isSaid = (n: Value | undefined): n is number => typeof n === "number" && n > 0 && Number.isFinite(n);
  return isSaid(events) && isSaid(exposure_days) && isSaid(per_event)
    ? { events, exposure_days, per_event }
    : null;
}

export const perDay = (pace: Pace): number => (pace.events * pace.per_event) / pace.exposure_days;

/** Events until so many pieces more are cut; that is within a batch, so half a one comes on top. */
export const eventsFor = (pace: Pace, pieces: number): number =>
  pieces > 0 ? pieces / pace.per_event + 0.5 : 0;

/** The logarithm of the gamma function, by Lanczos's series (g = 7, nine terms); `x` above 0. */
function logGamma(x: number): number {
  if (x < 0.5) return Math.log(Math.PI / Math.sin(Math.PI * x)) - logGamma(1 - x);
  const terms = [
    676.5203681218851, -1259.1392167224028, 771.32342877765313, -176.61502916214059, 12.507343278686905,
    -0.13857109526572012, 9.9843695780195716e-6, 1.5056327351493116e-7,
  ];
  const at = x - 1;
  const sum = terms.reduce((so_far, term, k) => so_far + term / (at + k + 1), 0.99999999999980993);
  const t = at + 7.5;
  return 0.5 * Math.log(2 * Math.PI) + (at + 0.5) * Math.log(t) - t + Math.log(sum);
}

/** The regularised incomplete beta function for fixed a and b, by its continued fraction (NIST DLMF 8.17.22). */
export function incompleteBeta(a: number, b: number): (x: number) => number {
  const log = logGamma(a + b) - logGamma(a) - logGamma(b);
  const least = (n: number): number => (Math.abs(n) > 1e-300 ? n : 1e-300);
  const fraction = (p: number, q: number, x: number, rest: number): number => {
    let above = 1;
    let below = 1 / least(1 - ((p + q) * x) / (p + 1));
    let value = below;
    for (let m = 1; m < 500; m += 1) {
      const even = (m * (q - m) * x) / ((p + 2 * m - 1) * (p + 2 * m));
      const odd = (-(p + m) * (p + q + m) * x) / ((p + 2 * m) * (p + 2 * m + 1));
      let change = 1;
      for (const step of [even, odd]) {
        below = 1 / least(1 + step * below);
        above = least(1 + step / above);
        change = below * above;
        value *= change;
      }
      if (Math.abs(change - 1) < 1e-13) break;
    }
    return (Math.exp(log + p * Math.log(x) + q * Math.log(rest)) * value) / p;
  };
  return (x) => {
    if (x <= 0 || x >= 1) return x <= 0 ? 0 : 1;
    return x > (a + 1) / (a + b + 2) ? 1 - fraction(b, a, 1 - x, x) : fraction(a, b, x, 1 - x);
  };
}

/** Days until `remaining` more events, not later with each of the levels: gamma-Poisson. */
export function nextDueDays(
  events: number,
  exposure_days: number,
  remaining: number,
  levels: readonly number[],
): number[] {
  if (remaining <= 0) return levels.map(() => 0);
  const beta = incompleteBeta(remaining, events);
  return levels.map((level) =>
    whereReached((days) => beta(days / (days + exposure_days)), level, exposure_days),
  );
}

export const daysUntil = (pace: Pace, pieces: number, levels: readonly number[]): number[] =>
  nextDueDays(pace.events, pace.exposure_days, eventsFor(pace, pieces), levels);

/** Days until one of several counts, each as likely as the others, is cut. */
export function daysUntilOneOf(counts: readonly number[], pace: Pace, levels: readonly number[]): number[] {
  const betas = counts.map((pieces) =>
    pieces > 0 ? incompleteBeta(eventsFor(pace, pieces), pace.events) : () => 1,
  );
  const overBy = (days: number): number =>
    betas.reduce((sum, beta) => sum + beta(days / (days + pace.exposure_days)), 0) / betas.length;
  return levels.map((level) => whereReached(overBy, level, pace.exposure_days));
}

/** `left` more of something that comes at a pace; null where no pace is known. */
export interface Awaited {
  left: number;
  pace: Pace | null;
}

export interface Outlook {
  days: number[];
  by: "pieces" | "sessions" | "days";
}

/** When is it due, whichever comes first? They go fast or slowly together: the earliest at each level. */
export function outlook(
  pieces: Awaited | null,
  sessions: Awaited | null,
  daysLeft: number | null,
  levels: readonly number[],
): Outlook | null {
  const waits: [Outlook["by"], number[]][] = [];
  for (const [by, count] of [
    ["pieces", pieces],
    ["sessions", sessions],
  ] as const) {
    if (count === null) continue;
    if (count.left <= 0) waits.push([by, levels.map(() => 0)]);
    else if (count.pace !== null) waits.push([by, daysUntil(count.pace, count.left, levels)]);
  }
  if (daysLeft !== null) waits.push(["days", levels.map(() => Math.max(0, daysLeft))]);
  const middle = Math.floor(levels.length / 2);
  const first = waits.reduce<[Outlook["by"], number[]] | null>(
    (best, wait) => (best === null || (wait[1][middle] ?? 0) < (best[1][middle] ?? 0) ? wait : best),
    null,
  );
  if (first === null) return null;
  return { by: first[0], days: levels.map((_, k) => Math.min(...waits.map(([, days]) => days[k] ?? 0))) };
}

/** The chance that it is due within so many days; the other side of `outlook`. */
export function chanceDueBy(
  pieces: Awaited | null,
  sessions: Awaited | null,
  daysLeft: number | null,
  days: number,
): number {
  const chances = [pieces, sessions].map((count) => {
    if (count === null) return 0;
    if (count.left <= 0) return 1;
    const { pace } = count;
    return pace === null
      ? 0
      : incompleteBeta(eventsFor(pace, count.left), pace.events)(days / (days + pace.exposure_days));
  });
  return Math.max(...chances, daysLeft !== null && days >= daysLeft ? 1 : 0);
}

/** Calendar days from (lower, middle, upper) days on; never a narrower range. */
export function daysFrom(today: string, [lower = 0, middle = 0, upper = 0]: readonly number[]): Days {
  const on = (days: number): string => addDays(today, Math.min(days, 36_500));
  return { lower: on(Math.floor(lower)), middle: on(Math.round(middle)), upper: on(Math.ceil(upper)) };
}

export interface Days {
  lower: string;
  middle: string;
  upper: string;
}

/** A day is quiet when no batch is planned for it or for the next. */
const isQuiet = (day: string, busy: ReadonlySet<string>): boolean =>
  !busy.has(day) && !busy.has(addDays(day, 1));

/** The day for a change that is wanted on a day: the last quiet one before; after it only where none is left before. */
export function changeDay(
  wanted: string,
  planned: Iterable<string>,
  today: string,
): { day: string; moved: "stays" | "before" | "after" } {
  const from = wanted < today ? today : wanted;
  const busy = new Set(planned);
  for (let day = from; day >= today; day = addDays(day, -1))
    if (isQuiet(day, busy)) return { day, moved: day === from ? "stays" : "before" };
  let day = addDays(from, 1);
  while (!isQuiet(day, busy)) day = addDays(day, 1);
  return { day, moved: "after" };
}

/** The same change of blade, due on its quiet day: never before the day until which it was put off. */
export function onQuietDay(due: Due, planned: Iterable<string>, today: string): Due {
  if (due.roughly_day === null) return due;
  const until = due.put_off_until ?? today;
  const { day, moved } = changeDay(due.roughly_day, planned, until > today ? until : today);
  return moved === "stays" ? due : { ...due, roughly_day: day, is_due: day <= today, moved };
}
