/** Is this edge going off? A sum of what speaks for it, piece by piece, against an edge that goes on well. Pure.

Each supposition is an onset and a rate at which log minutes rise from there on; what a session adds to all of its
pieces, and a lot to all of its sessions, is integrated out. The server does the same (`forecast/watch_fit.py`). */

export interface WatchedBy {
  sigma: number;
  tau: number;
  loses: number;
  blunt_loses: number;
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
const RATES = [0.004, 0.008, 0.016, 0.04] as const;
const MOST = 0.5;
const DRAWN_IN = 2.5;
const ODD = 4;
const ODD_MINUTES = 0.75;
const SET = 0.03;
const LEAST_RISE = 0.08;
const ALL = SLOTS * RATES.length;

const sums = (): Float64Array => new Float64Array(ALL);

export function watchEdge(by: WatchedBy, cuts: readonly Cut[]): Found {
  const start = new Float64Array(SLOTS).fill(-1);
  const forIt = sums();
  const against = sums();
  const losses = sums();
  const [a, b, c, u] = [sums(), sums(), sums(), sums()];
  let [n, s, p, t, v] = [0, 0, 0, 0, SET ** 2];
  let since = 0;
  let session = "";
  let lot = "";
  const found: Found = { named: null, onset: null, rise: 0, total: 0 };
  const square = by.sigma ** 2;
  const between = by.tau ** 2;

  const endSession = (): void => {
    const whole = square + n * between;
    const k = between / (square * whole);
    for (let h = 0; h < ALL; h += 1) {
      const [ah, bh, ch] = [a[h] as number, b[h] as number, c[h] as number];
      forIt[h] = (forIt[h] as number) + ah / square - k * bh * s;
      against[h] = (against[h] as number) + ch / square - k * bh * bh;
      u[h] = (u[h] as number) + bh / whole;
    }
    p += n / whole;
    t += s / whole;
    for (const part of [a, b, c]) part.fill(0);
    n = s = 0;
  };

  for (const cut of cuts) {
    if (cut.session !== session) {
      if (found.named !== null && cut.straight) {
        since = cut.age;
        start.fill(-1);
        found.named = null;
      }
      endSession();
    }
    if (cut.lot !== lot) {
      endSession();
      const k = v / (1 + v * p);
      for (let h = 0; h < ALL; h += 1) {
        const uh = u[h] as number;
        forIt[h] = (forIt[h] as number) - k * uh * t;
        against[h] = (against[h] as number) - k * uh * uh;
      }
      u.fill(0);
      p = t = 0;
      v = SET ** 2 + cut.error ** 2;
    }
    session = cut.session;
    lot = cut.lot;

    const spread = Math.sqrt(square + between + v);
    const off = cut.off;
    const told = off !== null && Math.abs(off) <= Math.max(ODD * spread, ODD_MINUTES);
    const e = told ? Math.max(-DRAWN_IN * spread, Math.min(DRAWN_IN * spread, off)) : 0;
    if (told) {
      n += 1;
      s += e;
    }
    const whole = square + n * between;
    const kSession = between / (square * whole);
    const kLot = v / (1 + v * (p + n / whole));
    const tOpen = t + s / whole;
    let best = 0;
    let at = -1;
    for (let slot = 0; slot < SLOTS; slot += 1) {
      const first = slot * STEP;
      const turn = first + STEP * SLOTS * Math.floor((cut.age - first) / (STEP * SLOTS));
      const begin = turn >= since && turn >= 0 ? turn : -1;
      const isFresh = begin !== start[slot];
      start[slot] = begin;
      for (let r = 0; r < RATES.length; r += 1) {
        const h = slot * RATES.length + r;
        if (isFresh) forIt[h] = against[h] = losses[h] = a[h] = b[h] = c[h] = u[h] = 0;
        if (begin < 0) continue;
        const ramp = Math.min(MOST, Math.max(0, (RATES[r] as number) * (cut.age - begin + 1)));
        if (told) {
          a[h] = (a[h] as number) + ramp * e;
          b[h] = (b[h] as number) + ramp;
          c[h] = (c[h] as number) + ramp * ramp;
        }
        const share = Math.min(by.loses + by.blunt_loses * ramp, 0.9);
        const more = cut.lost ? Math.log(share / by.loses) : Math.log((1 - share) / (1 - by.loses));
        losses[h] = (losses[h] as number) + more;
        const uh = (u[h] as number) + (b[h] as number) / whole;
        const numerator =
          (forIt[h] as number) +
          (a[h] as number) / square -
          kSession * (b[h] as number) * s -
          kLot * uh * tOpen;
        const weight =
          (against[h] as number) +
          (c[h] as number) / square -
          kSession * (b[h] as number) ** 2 -
          kLot * uh * uh;
        const sum = numerator - weight / 2 + (losses[h] as number);
        if (at < 0 || sum > best) {
          best = sum;
          at = h;
          found.rise = Math.min(1, ramp * Math.max(0, Math.min(3, numerator / Math.max(weight, 1e-9))));
          found.onset = begin;
        }
      }
    }
    // a supposition that has not begun yet says nothing either way
    if (at < 0 || (best < 0 && start.includes(-1))) {
      best = 0;
      found.rise = 0;
      found.onset = null;
    }
    found.total = best;
    if (found.named === null && best > by.decision && found.rise >= LEAST_RISE) found.named = cut.age;
  }
  return found;
}
