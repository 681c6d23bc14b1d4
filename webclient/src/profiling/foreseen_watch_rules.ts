/** Is this edge going off? A sum of what speaks for it, piece by piece, against an edge that goes on well. Pure.

Each supposition is an onset and a rate at which log minutes rise from there on; what a session adds to all of its
pieces, and a lot to all of its sessions, is integrated out. The server does the same (`forecast/watch_fit.py`). */

export interface WatchedBy {
  sigma: number;
  tau: number;
  loses: number;
  blunt_loses: number;
  good: number;
  decision: number;
}

/** A piece on the edge. `off`: log minutes less the usual (null: not fully counted); `error`: how well its lot is known;
 * `straight`: the edge was found straight before this session. */
export interface Cut {
  age: number;
  lot: string;
  session: string;
  straight: boolean;
  off: number | null;
  error: number;
  lost: boolean;
}

/** `named`: the age at which it was named first, and still is; `onset`: since when it rises, by so many log minutes. */
export interface Found {
  named: number | null;
  onset: number | null;
  rise: number;
  total: number;
}

const STEP = 6;
const SLOTS = 24;
const AROUND = STEP * SLOTS;
const RATES = [0.004, 0.008, 0.016, 0.04] as const;
const EACH = RATES.length;
const MOST = 0.5;
const DRAWN_IN = 3;
const ODD = 4;
const ODD_MINUTES = 0.55;
const RARELY = 2.3;
const SET = 0.03;
const LEAST_RISE = 0.08;

/** What each rate has added to log minutes, by the pieces since the onset. */
const RAMPS = Float64Array.from({ length: AROUND * EACH }, (_, i) =>
  Math.min(MOST, (RATES[i % EACH] as number) * (Math.floor(i / EACH) + 1)),
);

/** A number for every supposition, by slot and rate. */
const each = (): Float64Array => new Float64Array(SLOTS * EACH);

class EdgeWatch {
  found: Found = { named: null, onset: null, rise: 0, total: 0 };
  /** The age at which each slot's onset lies; -1: it has not begun. */
  private readonly start = new Float64Array(SLOTS).fill(-1);
  private since = 0;
  // the sum, its part that grows with the rise, that part's weight; of the session that is on, of the lot's earlier ones
  private readonly all = [each(), each(), each(), each(), each()] as const;
  private readonly kept: Float64Array;
  private readonly square: number;
  private readonly between: number;
  private n = 0;
  private s = 0;
  private p = 0;
  private t = 0;
  private v = SET ** 2;

  constructor(private readonly by: WatchedBy) {
    this.square = by.sigma ** 2;
    this.between = by.tau ** 2;
    this.kept = RAMPS.map((ramp) => Math.log((1 - this.loses(ramp)) / (1 - by.loses)));
  }

  private loses(ramp: number): number {
    return Math.min(this.by.loses + this.by.blunt_loses * ramp, 0.9);
  }

  lookedAt(age: number): void {
    this.since = age;
    this.start.fill(-1);
    this.found.named = null;
  }

  session(): void {
    const whole = this.square + this.n * this.between;
    const [, , , ofSession, ofLot] = this.all;
    this.explained(ofSession, this.between / (this.square * whole), this.s);
    for (let h = 0; h < ofLot.length; h += 1)
      ofLot[h] = (ofLot[h] as number) + (ofSession[h] as number) / whole;
    ofSession.fill(0);
    this.p += this.n / whole;
    this.t += this.s / whole;
    this.n = this.s = 0;
  }

  lot(error: number): void {
    this.session();
    this.explained(this.all[4], this.v / (1 + this.v * this.p), this.t);
    this.all[4].fill(0);
    this.p = this.t = 0;
    this.v = SET ** 2 + error ** 2;
  }

  /** What a session or a lot that is over added to all of its pieces does not speak for a rise. */
  private explained(part: Float64Array, k: number, off: number): void {
    const [sum, rises, weight] = this.all;
    for (let h = 0; h < part.length; h += 1) {
      const own = part[h] as number;
      sum[h] = (sum[h] as number) - k * own * (off - own / 2);
      rises[h] = (rises[h] as number) - k * own * off;
      weight[h] = (weight[h] as number) - k * own * own;
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
      if (begin < this.by.good) this.all[0].fill(-RARELY, slot * EACH, slot * EACH + EACH);
    }
    this.start[slot] = begin;
    return begin;
  }

  /** Log minutes of the next piece less the usual, as the lot's and the session's pieces so far lead to expect of an
   * edge that is well; and its standard deviation. */
  private expected(): [number, number] {
    const { square, between, v } = this;
    const whole = square + this.n * between;
    const lot = v / (1 + v * (this.p + this.n / whole));
    const part = square / whole;
    const expected = part * lot * (this.t + this.s / whole) + (between * this.s) / whole;
    return [expected, Math.sqrt(square + between * part + lot * part * part)];
  }

  piece({ age, off, lost }: Cut): void {
    const [sum, rises, weight, ofSession, ofLot] = this.all;
    const { by, square, between, kept, v } = this;
    const [expected, spread] = this.expected();
    const fromIt = (off ?? 0) - expected;
    const isTold = off !== null && Math.abs(fromIt) <= Math.max(ODD * spread, ODD_MINUTES);
    const drawnIn = Math.max(-DRAWN_IN * spread, Math.min(DRAWN_IN * spread, fromIt));
    const e = isTold ? expected + drawnIn : 0;
    const one = isTold ? 1 : 0;
    const precision = one / square;
    this.n += one;
    this.s += e;
    const s = this.s;
    const whole = square + this.n * between;
    const kSession = between / (square * whole);
    const kLot = v / (1 + v * (this.p + this.n / whole));
    const perWhole = 1 / whole;
    const t = this.t + s / whole;
    let [total, at, onset] = [0, -1, 0];
    for (let slot = 0; slot < SLOTS; slot += 1) {
      const begin = this.begun(slot, age);
      if (begin < 0) continue;
      for (let r = 0; r < EACH; r += 1) {
        const h = slot * EACH + r;
        const i = (age - begin) * EACH + r;
        const ramp = RAMPS[i] as number;
        const more = lost ? Math.log(this.loses(ramp) / by.loses) : (kept[i] as number);
        const b = (ofSession[h] as number) + one * ramp;
        const u = (ofLot[h] as number) + b * perWhole;
        const c = (sum[h] as number) + ramp * (e - ramp / 2) * precision + more;
        sum[h] = c;
        ofSession[h] = b;
        rises[h] = (rises[h] as number) + ramp * e * precision;
        weight[h] = (weight[h] as number) + ramp * ramp * precision;
        const open = c - kSession * b * (s - b / 2) - kLot * u * (t - u / 2);
        if (at < 0 || open > total) {
          total = open;
          at = h;
          onset = begin;
        }
      }
    }
    // a supposition that has not begun yet says nothing either way
    if (at < 0 || (total < 0 && this.start.includes(-1))) {
      this.found = { ...this.found, onset: null, rise: 0, total: 0 };
      return;
    }
    const b = ofSession[at] as number;
    const u = (ofLot[at] as number) + b * perWhole;
    const d = (weight[at] as number) - kSession * b * b - kLot * u * u;
    const scale = ((rises[at] as number) - kSession * b * s - kLot * u * t) / Math.max(d, 1e-9);
    const ramp = RAMPS[(age - onset) * EACH + (at % EACH)] as number;
    const rise = Math.min(1, ramp * Math.max(0, Math.min(3, scale)));
    const isOff = total > by.decision && rise >= LEAST_RISE;
    this.found = { named: this.found.named ?? (isOff ? age : null), onset, rise, total };
  }
}

/** One edge, from its first piece on. Once named it stays so, until it was found straight. */
export function watchEdge(by: WatchedBy, cuts: readonly Cut[]): Found {
  const watch = new EdgeWatch(by);
  let session = "";
  let lot = "";
  for (const cut of cuts) {
    if (cut.session !== session) {
      if (watch.found.named !== null && cut.straight) watch.lookedAt(cut.age);
      watch.session();
    }
    if (cut.lot !== lot) watch.lot(cut.error);
    session = cut.session;
    lot = cut.lot;
    watch.piece(cut);
  }
  return watch.found;
}
