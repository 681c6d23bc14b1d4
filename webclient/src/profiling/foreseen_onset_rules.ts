/** From which piece on, and how fast, may an edge be going off, and what speaks for each supposition? Pure.

For every onset and rate: a sum (the logarithm of how much likelier it makes what was seen than an edge that is well),
its part that grows with the rise, and that part's weight. */
import type { Level } from "./foreseen_level_rules";

export interface Blunt {
  /** the usual share lost to what a blunt edge does, and what a rise of 1 in log minutes adds to it */
  loses: number;
  blunt_loses: number;
  /** an edge's first pieces, in which it seldom goes off */
  good: number;
}

/** What most speaks for: since when log minutes rise, and by how much by now. */
export interface Likeliest {
  total: number;
  onset: number | null;
  rise: number;
}

const STEP = 6;
const SLOTS = 24;
const AROUND = STEP * SLOTS;
const RATES = [0.004, 0.008, 0.016, 0.04] as const;
const EACH = RATES.length;
const MOST = 0.5;
const RARELY = 2.3;

/** What each rate has added to log minutes, by the pieces since the onset. */
const RAMPS = Float64Array.from({ length: AROUND * EACH }, (_, i) =>
  Math.min(MOST, (RATES[i % EACH] as number) * (Math.floor(i / EACH) + 1)),
);

const sums = (): Float64Array => new Float64Array(SLOTS * EACH);

export class Onsets {
  /** The age at which each slot's onset lies; -1: it has not begun. */
  private readonly start = new Float64Array(SLOTS).fill(-1);
  private since = 0;
  private readonly sum = sums();
  private readonly grows = sums();
  private readonly weight = sums();
  /** Of the ramp: added up over the session that is on, and over the lot's sessions that are over. */
  private readonly inSession = sums();
  private readonly inLot = sums();
  private readonly all = [this.sum, this.grows, this.weight, this.inSession, this.inLot];
  private readonly kept: Float64Array;

  constructor(private readonly by: Blunt) {
    this.kept = RAMPS.map((ramp) => Math.log((1 - this.loses(ramp)) / (1 - by.loses)));
  }

  private loses(ramp: number): number {
    return Math.min(this.by.loses + this.by.blunt_loses * ramp, 0.9);
  }

  /** What lies before this age does not count. */
  beginAnew(age: number): void {
    this.since = age;
    this.start.fill(-1);
  }

  endSession(level: Level): void {
    const { inSession, inLot } = this;
    this.explain(inSession, level.ofSession());
    for (let h = 0; h < inLot.length; h += 1)
      inLot[h] = (inLot[h] as number) + (inSession[h] as number) / level.whole;
    inSession.fill(0);
  }

  /** After `endSession`. */
  endLot(level: Level): void {
    this.explain(this.inLot, level.ofLot());
    this.inLot.fill(0);
  }

  /** What a session or a lot adds to all of its pieces does not speak for a rise. */
  private explain(part: Float64Array, { share, off }: { share: number; off: number }): void {
    const { sum, grows, weight } = this;
    for (let h = 0; h < part.length; h += 1) {
      const own = part[h] as number;
      sum[h] = (sum[h] as number) - share * own * (off - own / 2);
      grows[h] = (grows[h] as number) - share * own * off;
      weight[h] = (weight[h] as number) - share * own * own;
    }
  }

  /** Where a slot's onset lies at this age. */
  private begun(slot: number, age: number): number {
    const before = this.start[slot] as number;
    if (before >= 0 && age < before + AROUND) return before;
    const first = slot * STEP;
    const turn = first + AROUND * Math.floor((age - first) / AROUND);
    const begin = turn >= Math.max(0, this.since) ? turn : -1;
    if (begin !== before) {
      for (const part of this.all) part.fill(0, slot * EACH, slot * EACH + EACH);
      if (begin < this.by.good) this.sum.fill(-RARELY, slot * EACH, slot * EACH + EACH);
    }
    this.start[slot] = begin;
    return begin;
  }

  /** A piece at this age of the edge; `told`: its log minutes less the usual, already counted in `level`. */
  piece(age: number, told: number | null, lost: boolean, level: Level): Likeliest {
    const { sum, grows, weight, inSession, inLot, kept } = this;
    const counts = told === null ? 0 : 1;
    const precision = counts / level.square;
    const e = told ?? 0;
    const { share: ofSession, off: offSession } = level.ofSession();
    const { share: ofLot, off: offLot } = level.ofLot();
    const perWhole = 1 / level.whole;
    let [total, at, onset] = [0, -1, 0];
    for (let slot = 0; slot < SLOTS; slot += 1) {
      const begin = this.begun(slot, age);
      if (begin < 0) continue;
      for (let r = 0; r < EACH; r += 1) {
        const h = slot * EACH + r;
        const i = (age - begin) * EACH + r;
        const ramp = RAMPS[i] as number;
        const more = lost ? Math.log(this.loses(ramp) / this.by.loses) : (kept[i] as number);
        const grown = ramp * precision;
        const s = (sum[h] as number) + grown * (e - ramp / 2) + more;
        const b = (inSession[h] as number) + ramp * counts;
        const u = (inLot[h] as number) + b * perWhole;
        sum[h] = s;
        inSession[h] = b;
        grows[h] = (grows[h] as number) + grown * e;
        weight[h] = (weight[h] as number) + grown * ramp;
        const open = s - ofSession * b * (offSession - b / 2) - ofLot * u * (offLot - u / 2);
        if (at < 0 || open > total) [total, at, onset] = [open, h, begin];
      }
    }
    // a supposition that has not begun yet says nothing either way
    if (at < 0 || (total < 0 && this.start.includes(-1))) return { total: 0, onset: null, rise: 0 };
    const b = inSession[at] as number;
    const u = (inLot[at] as number) + b * perWhole;
    const d = (weight[at] as number) - ofSession * b * b - ofLot * u * u;
    const n = (grows[at] as number) - ofSession * b * offSession - ofLot * u * offLot;
    const ramp = RAMPS[(age - onset) * EACH + (at % EACH)] as number;
    const rise = ramp * Math.max(0, Math.min(3, n / Math.max(d, 1e-9)));
    return { total, onset, rise: Math.min(1, rise) };
  }
}
