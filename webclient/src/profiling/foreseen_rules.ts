/** How long will the next piece take, and when is the batch done? From the slips, and today's own pieces. Pure. */

/** Log minutes: `centre` of a piece of this lot on a fresh edge, `error` how well it is known; the rest as on the slip.

`with_slopes`: covariances of the centre with `by_age` and `by_long_use`; `slopes`: their own (of the first, of both,
of the second). */
export interface Pace {
  centre: number;
  error: number;
  by_age: number;
  by_long_use: number;
  /** spread of a piece within a session, and of sessions */
  sigma: number;
  tau: number;
  degrees: number;
  with_slopes?: Two;
  slopes?: readonly [number, number, number];
}

type Two = readonly [number, number];

/** Minutes. `likely` is the middle; the truth lies between `low` and `high` at the level asked for. */
export interface Ahead {
  likely: number;
  low: number;
  high: number;
}

/** 100 cuts like a fresh edge; 80 takes a quarter longer. `others`: what is usual at this age. */
export interface Sharpness {
  index: number;
  low: number;
  high: number;
  others: number;
}

/** What a slip says of a lot: how many more pieces are wanting, and how it stands beside the other lots. */
export interface PaceSaid {
  pace: Pace;
  pieces: number;
  wanting: number;
  /** absent for a lot of its own */
  standsIn: string | null;
  slower: { likely: number; low: number; high: number } | null;
}

/** From here on an edge's age may cost more than before; common practice, no source. */
const LONG_USED = 150;
/** The normal distribution's 95 %, for a range that holds 9 times in 10. */
const Z = 1.6448536269514722;
/** Less than this much slower, beyond doubt, is not worth a word. */
const WORTH_SAYING = 0.05;

type Body = { readonly [name: string]: unknown } | undefined;

const figure = (body: Body, name: string): number | null => {
  const value = body?.[name];
  return typeof value === "number" && Number.isFinite(value) ? value : null;
};

const part = (body: Body, name: string): Body => {
  const value = body?.[name];
  return typeof value === "object" && value !== null && !Array.isArray(value) ? (value as Body) : undefined;
};

/** So many figures of a list; null where there are others. */
function figures(body: Body, name: string): number[] | null {
  const list = body?.[name];
  const isOne = (each: unknown): each is number => typeof each === "number" && Number.isFinite(each);
  return Array.isArray(list) && list.every(isOne) ? list : null;
}

/** How well a lot is known on this machine: the error, and its covariances with the slopes. */
function unsure(body: Body, machine: string | null): [number, Two] {
  const on = machine === null ? null : figures(part(body, "on"), machine);
  const [error = figure(body, "error") ?? 0.12, age, long] = on ?? [];
  const [c = 0, d = 0] = figures(body, "with_slopes") ?? [];
  return [error, [age ?? c, long ?? d]];
}

/** `one`, `all`: bodies of the slips of a lot and of all lots; null where nothing can be said. */
export function readPace(one: Body, all: Body, machine: string | null, pieces = 0): PaceSaid | null {
  const sigma = figure(all, "sigma");
  const usual = figure(all, "centre");
  if (sigma === null || sigma <= 0 || usual === null) return null;
  const own = figure(one, "centre");
  const wanting = figure(one, "wanting") ?? (own === null ? 24 : 0);
  const isOwn = own !== null && wanting === 0;
  const last = all?.["last"];
  const adds = machine === null ? 0 : figure(part(all, "machines"), machine);
  const beside = part(one, "beside");
  const slower = figure(beside, "slower");
  const degrees = figure(all, "degrees") ?? 6;
  const reach = quantile(degrees) * (figure(beside, "error") ?? 0);
  const [known, with_slopes] = unsure(isOwn ? one : all, machine);
  const [a = 0, b = 0, c = 0] = figures(all, "slopes") ?? [];
  return {
    pace: {
      centre: (isOwn ? own : usual) + (adds ?? 0),
      // a machine that has cut nothing yet
      error: adds === null ? Math.hypot(known, figure(all, "machines_differ") ?? 0) : known,
      by_age: figure(all, "by_age") ?? 0,
      by_long_use: figure(all, "by_long_use") ?? 0,
      sigma,
      tau: figure(all, "tau") ?? 0.07,
      degrees,
      with_slopes,
      slopes: [a, b, c],
    },
    pieces,
    wanting,
    standsIn: !isOwn && typeof last === "string" ? last : null,
    slower:
      slower === null || Math.abs(slower) - reach < WORTH_SAYING
        ? null
        : {
            likely: Math.exp(slower) - 1,
            low: Math.exp(slower - reach) - 1,
            high: Math.exp(slower + reach) - 1,
          },
  };
}

/** Log minutes that an edge of this age adds to a fresh one's. */
export const ageCosts = (pace: Pace, age: number): number =>
  (pace.by_age * age + pace.by_long_use * Math.max(0, age - LONG_USED)) / 100;

/** Student's t for a range that holds 9 times in 10, by Fisher's expansion. */
export function quantile(degrees: number): number {
  const d = Math.max(degrees, 3);
  return Z + (Z ** 3 + Z) / (4 * d) + (5 * Z ** 5 + 16 * Z ** 3 + 3 * Z) / (96 * d * d);
}

/** Of an edge at these ages, the mean: hundreds of pieces, and of those beyond long use. */
function use(ages: readonly number[]): Two {
  const mean = (of: (age: number) => number): number =>
    ages.reduce((sum, age) => sum + of(age), 0) / Math.max(1, ages.length) / 100;
  return [mean((age) => age), mean((age) => Math.max(0, age - LONG_USED))];
}

/** Covariance of what is expected on edges of such use; where both are the same, how unsure it is. */
function together(pace: Pace, one: Two, other: Two): number {
  const [[a, b], [c, d]] = [one, other];
  const [of, both, long] = pace.slopes ?? [0, 0, 0];
  const [withAge, withLong] = pace.with_slopes ?? [0, 0];
  const ofSlopes = of * a * c + both * (a * d + b * c) + long * b * d;
  const found = pace.error ** 2 + withAge * (a + c) + withLong * (b + d) + ofSlopes;
  return a === c && b === d ? Math.max(0, found) : found;
}

/** How today deviates, and the variance left, on an edge of use `ahead`. `today`: minutes and the edge's age of its
 * fully counted pieces. */
export function dayOf(
  pace: Pace,
  today: readonly (readonly [number, number])[],
  ahead: Two = [0, 0],
): [number, number] {
  const day = pace.tau ** 2;
  const before = together(pace, ahead, ahead) + day;
  const told = today.filter(([minutes]) => minutes > 0);
  if (told.length === 0 || before <= 0) return [0, before];
  const then = use(told.map(([, age]) => age));
  const known = together(pace, then, then) + day;
  const reach = 3 * Math.sqrt(known + pace.sigma ** 2);
  const sum = told.reduce((total, [minutes, age]) => {
    const off = Math.log(minutes) - pace.centre - ageCosts(pace, age);
    return total + Math.max(-reach, Math.min(reach, off));
  }, 0);
  const both = together(pace, then, ahead) + day;
  const seen = known + pace.sigma ** 2 / told.length;
  if (seen <= 0) return [0, before];
  return [((both / seen) * sum) / told.length, Math.max(0, before - both ** 2 / seen)];
}

/** Minutes for so many more pieces in a row, the first cut at `age`, without pauses. */
export function minutesAhead(
  pace: Pace,
  age: number,
  pieces: number,
  today: readonly (readonly [number, number])[] = [],
): Ahead {
  const ahead = use(Array.from({ length: pieces }, (_, i) => age + i));
  const [shift, variance] = dayOf(pace, today, ahead);
  const square = pace.sigma ** 2;
  let mean = 0;
  let spread = 0;
  for (let i = 0; i < pieces; i += 1) {
    const one = Math.exp(pace.centre + ageCosts(pace, age + i) + square / 2);
    mean += one;
    spread += one * one * Math.expm1(square);
  }
  const ofSum = Math.log1p(spread / mean ** 2);
  const middle = shift + Math.log(mean) - ofSum / 2;
  const reach = quantile(pace.degrees) * Math.sqrt(variance + ofSum);
  return { likely: Math.exp(middle), low: Math.exp(middle - reach), high: Math.exp(middle + reach) };
}

/** Of an edge, by its last pieces: minutes, the edge's age then, the centre of the piece's own lot. */
export function sharpness(
  pace: Pace,
  recent: readonly (readonly [number, number, number])[],
): Sharpness | null {
  const told = recent.filter(([minutes]) => minutes > 0);
  if (told.length === 0) return null;
  const rises = told.map(([minutes, , centre]) => Math.log(minutes) - centre).sort((a, b) => a - b);
  const half = Math.floor(rises.length / 2);
  const upper = rises[half] ?? 0;
  const rise = rises.length % 2 ? upper : ((rises[half - 1] ?? upper) + upper) / 2;
  const error = Math.sqrt(pace.error ** 2 + pace.tau ** 2 + (1.5708 * pace.sigma ** 2) / rises.length);
  const reach = quantile(pace.degrees) * error;
  const age = Math.max(...told.map(([, at]) => at));
  const index = (log: number): number => 100 * Math.exp(-log);
  return {
    index: index(rise),
    low: index(rise + reach),
    high: index(rise - reach),
    others: index(ageCosts(pace, age)),
  };
}

/** Turns of the next piece: the usual, and the least and most 9 times in 10; null where nothing was counted. */
export function turnsAhead(one: Body, all: Body, age: number): [number, number, number] | null {
  const own = figure(one, "centre");
  const centre = figure(one, "wanting") === null && own !== null ? own : figure(all, "centre");
  if (centre === null) return null;
  const mean = Math.exp(centre + ((figure(all, "by_age") ?? 0) * age) / 100);
  const spread = figure(all, "spread") ?? 1;
  const error = (own === null ? figure(all, "error") : figure(one, "error")) ?? 0.12;
  const variance =
    (spread >= 1 ? mean + (figure(all, "alpha") ?? 0) * mean ** 2 : spread * mean) + (mean * error) ** 2;
  if (variance <= mean * 1.0001) {
    const reach = Z * Math.sqrt(variance);
    return [mean, Math.floor(mean - reach + 0.5), Math.ceil(mean + reach - 0.5)];
  }
  const size = mean ** 2 / (variance - mean);
  const p = size / (size + mean);
  let chance = p ** size;
  let below = chance;
  let low: number | null = null;
  for (let n = 0; n < 1000; n += 1) {
    if (low === null && below >= 0.05) low = n;
    if (below >= 0.95) return [mean, low ?? n, n];
    chance *= ((size + n) / (n + 1)) * (1 - p);
    below += chance;
  }
  return null;
}
