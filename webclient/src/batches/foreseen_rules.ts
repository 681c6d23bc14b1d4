// How many pieces must be started so that enough come out good? Evaluated from the counts that the server sent.

import type { Value, Values } from "../logbook/model";
import type { Stage } from "./model";

/** A share of good ones that is not known exactly: beta (a, b). */
export interface Share {
  a: number;
  b: number;
}

/** Above so many pieces several stages are taken as one with the same mean and spread. */
const EXACT_TO = 600;
const MOST_PIECES = 1_000_000;
/** A chance that is reached but for rounding is reached. */
const HAIR = 1e-12;

/** The share that was seen, with the prior of Jeffreys. */
export const seenShare = (good: number, tried: number): Share => ({ a: good + 0.5, b: tried - good + 0.5 });

/** The fewest pieces so that `wanted` come out good with that chance; null where a million were too few. */
export function piecesToStart(wanted: number, shares: readonly Share[], chance: number): number | null {
  if (wanted <= 0 || shares.length === 0) return wanted;
  if (shares.length > 1) {
    const found = throughStages(wanted, shares, chance);
    if (found !== null) return found;
  }
  return waiting(wanted, asOne(shares), chance);
}

/** Piece by piece, until the chance that the last one wanted has come is large enough: beta negative binomial. */
function waiting(wanted: number, { a, b }: Share, chance: number): number | null {
  let here = 0;
  for (let i = 0; i < wanted; i += 1) here += Math.log((a + i) / (a + b + i));
  let soFar = Math.exp(here);
  let n = wanted;
  while (soFar < chance - HAIR) {
    if (n >= MOST_PIECES) return null;
    here += Math.log(((n / (n - wanted + 1)) * (b + n - wanted)) / (a + b + n));
    soFar += Math.exp(here);
    n += 1;
  }
  return n;
}

/** From the last stage back: the chance that so many before a stage are enough. */
function throughStages(wanted: number, shares: readonly Share[], chance: number): number | null {
  for (
    let most = Math.min(EXACT_TO, 2 * wanted + 16);
    wanted <= EXACT_TO;
    most = Math.min(EXACT_TO, 2 * most)
  ) {
    let enough = Array.from({ length: most + 1 }, (_, n): number => (n >= wanted ? 1 : 0));
    for (const share of shares.toReversed()) {
      const chanceOf = ways(share, most);
      enough = enough.map((_, n) => {
        let sum = 0;
        for (let x = wanted; x <= n; x += 1) sum += chanceOf(x, n) * (enough[x] ?? 0);
        return sum;
      });
    }
    const found = enough.findIndex((ofN) => ofN >= chance - HAIR);
    if (found !== -1) return found;
    if (most === EXACT_TO) return null;
  }
  return null;
}

/** The fewest and the most good ones of so many started, as often as `level` says. */
export function goodBetween(started: number, shares: readonly Share[], level: number): [number, number] {
  let chances = Array.from({ length: started + 1 }, (_, n): number => (n === started ? 1 : 0));
  for (const share of started > EXACT_TO ? [asOne(shares)] : shares) {
    const chanceOf = ways(share, started);
    const after = chances.map(() => 0);
    chances.forEach((ofN, n) => {
      if (ofN > 0) for (let x = 0; x <= n; x += 1) after[x] = (after[x] ?? 0) + ofN * chanceOf(x, n);
    });
    chances = after;
  }
  const below = (1 - level) / 2;
  let [fewest, most, upTo] = [-1, started, 0];
  chances.some((chance, x) => {
    upTo += chance;
    if (fewest < 0 && upTo > below + HAIR) fewest = x;
    if (upTo >= 1 - below - HAIR) most = x;
    return upTo >= 1 - below - HAIR;
  });
  return [Math.max(0, fewest), most];
}

/** Chances of x good ones out of n, for every n up to the most: beta-binomial, from running logarithms. */
function ways({ a, b }: Share, most: number): (x: number, n: number) => number {
  const [whole, good, lost, both] = [1, a, b, a + b].map((start) => running(start, most));
  const at = (of: Float64Array | undefined, i: number): number => of?.[i] ?? 0;
  return (x, n) =>
    Math.exp(at(whole, n) - at(whole, x) - at(whole, n - x) + at(good, x) + at(lost, n - x) - at(both, n));
}

/** Logarithms of 1, start, start (start + 1), ... */
function running(start: number, most: number): Float64Array {
  const found = new Float64Array(most + 1);
  for (let i = 0; i < most; i += 1) found[i + 1] = (found[i] ?? 0) + Math.log(start + i);
  return found;
}

/** One beta distribution with the mean and the spread of what comes through all of these. */
function asOne(shares: readonly Share[]): Share {
  const [first] = shares;
  if (shares.length === 1 && first) return first;
  let [mean, square] = [1, 1];
  for (const { a, b } of shares) {
    mean *= a / (a + b);
    square *= (a * (a + 1)) / ((a + b) * (a + b + 1));
  }
  const together = (mean - square) / (square - mean * mean);
  return { a: mean * together, b: (1 - mean) * together };
}

/** What the server's counts say of one stage of a lot. */
export interface Yielded {
  share: Share;
  good: number;
  tried: number;
  /** the lot's own counts; else those of all lots so far, and how many */
  from: "lot" | "lots";
  lots: number;
  /** pieces of the lot until it speaks for itself */
  wanting: number;
}

/** A lot speaks for itself once so many of its pieces were tried. */
export const ENOUGH = 15;

const figure = (value: Value | undefined): number | null =>
  typeof value === "number" && Number.isFinite(value) && value >= 0 ? value : null;
const named = (value: Value | undefined): Values =>
  typeof value === "object" && value !== null && !Array.isArray(value) ? value : {};

/** Good, second, lost of a stage, as a lot's slip has them. */
export function countsOf(body: Values | undefined, stage: Stage): { good: number; tried: number } {
  const counts = named(body?.["stages"])[stage];
  const [good = 0, second = 0, lost = 0] = Array.isArray(counts) ? counts.map((n) => figure(n) ?? 0) : [];
  return { good, tried: good + second + lost };
}

/** From the slips of a lot and of all lots; null where nothing was ever counted. */
export function yielded(lot: Values | undefined, all: Values | undefined, stage: Stage): Yielded | null {
  const own = countsOf(lot, stage);
  const wanting = Math.max(0, ENOUGH - own.tried);
  if (wanting === 0) return { share: seenShare(own.good, own.tried), ...own, from: "lot", lots: 1, wanting };
  const before = named(named(all?.["stages"])[stage]);
  const [a, b] = [figure(before["a"]), figure(before["b"])];
  if (!a || !b) return null;
  return {
    share: { a: a + own.good, b: b + own.tried - own.good },
    good: figure(before["good"]) ?? 0,
    tried: figure(before["tried"]) ?? 0,
    from: "lots",
    lots: figure(before["lots"]) ?? 0,
    wanting,
  };
}

/** Where nothing was counted yet: a quarter more than wanted. Common practice, no source. */
export const byPractice = (wanted: number): number => Math.ceil(wanted * 1.25);

export interface Started {
  /** enough 9 times in 10 */
  start: number;
  /** enough half the time; 19 times in 20 */
  even: number;
  surer: number;
  rests: Yielded;
}

/** How many to start for so many good off the machine. */
export function startFor(wanted: number, rests: Yielded): Started | null {
  const [start, even, surer] = [0.9, 0.5, 0.95].map((chance) => piecesToStart(wanted, [rests.share], chance));
  if (start == null || even == null || surer == null) return null;
  return { start, even, surer, rests };
}

/** How many to start so that so many are left after all the stages that lose some; null where none of them does. */
export function startThrough(wanted: number, stages: readonly Yielded[]): number | null {
  return stages.length < 2
    ? null
    : piecesToStart(
        wanted,
        stages.map(({ share }) => share),
        0.9,
      );
}
