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

/** A watch slip, read: by what this machine's edges are watched. */
export interface Watch extends WatchedBy {
  by_age: number;
  rules: readonly string[];
  onceIn: number;
  /** how many pieces to a false alarm, by how keenly it is watched; null: not said */
  choices: { usual: number | null; keener: number | null };
  good: number;
  /** points that measure otherwise than after they were set */
  drifts: readonly { point: string; wet: boolean }[];
  /** log minutes of a piece of a lot on a fresh edge, and how well that is known */
  lotIs: (lot: string) => { centre: number; error: number };
}

type Body = { readonly [name: string]: unknown } | undefined;

const isPair = (value: unknown): value is [number, number] =>
  Array.isArray(value) && typeof value[0] === "number" && typeof value[1] === "number";
const isBody = (value: unknown): value is NonNullable<Body> =>
  typeof value === "object" && value !== null && !Array.isArray(value);

/** Null where too few pieces have been counted, or the slip cannot be read. */
export function readWatch(body: Body): Watch | null {
  const figure = (name: string): number => (typeof body?.[name] === "number" ? (body[name] as number) : 0);
  const fresh = body?.["new"];
  const [sigma, decision, loses] = [figure("sigma"), figure("decision"), figure("loses")];
  if (!isPair(fresh) || sigma <= 0 || decision <= 0 || loses <= 0) return null;
  const choices = isBody(body?.["choices"]) ? body["choices"] : {};
  const choice = (name: string): number | null => (typeof choices[name] === "number" ? choices[name] : null);
  const lots = isBody(body?.["lots"]) ? body["lots"] : {};
  const readings: unknown[] = Array.isArray(body?.["readings"]) ? body["readings"] : [];
  const rules: unknown[] = Array.isArray(body?.["rules"]) ? body["rules"] : [];
  return {
    sigma,
    decision,
    loses,
    tau: figure("tau"),
    blunt_loses: figure("blunt_loses"),
    by_age: figure("by_age"),
    rules: rules.filter((rule): rule is string => typeof rule === "string"),
    onceIn: figure("once_in"),
    choices: { usual: choice("usual"), keener: choice("keener") },
    good: figure("good"),
    drifts: readings.flatMap((one) =>
      isBody(one) && typeof one["drifted_at"] === "number" && typeof one["point"] === "string"
        ? [{ point: one["point"], wet: one["wet"] === true }]
        : [],
    ),
    lotIs: (lot) => {
      const [centre, error] = isPair(lots[lot]) ? lots[lot] : fresh;
      return { centre, error };
    },
  };
}

/** The run rules that can be chosen: L. S. Nelson 1984 (those by zones), Western Electric 1956. */
export const NELSON = ["nelson 1", "nelson 2", "nelson 5", "nelson 6"] as const;
export const WESTERN = [1, 2, 3, 4].map((n) => `western electric ${n}`);

/** Where chosen rules signal, counted from 1. `z`: values less the usual, in sigma. */
export function runRules(z: readonly number[], rules: readonly string[]): number[] {
  const some = (upTo: number, some: number, of: number, beyond: number): boolean =>
    [1, -1].some((side) => {
      const newest = z.slice(Math.max(0, upTo - of), upTo).map((value) => value * side > beyond);
      return newest.at(-1) === true && newest.filter(Boolean).length >= some;
    });
  const tests: Record<string, (upTo: number) => boolean> = {
    "1": (n) => some(n, 1, 1, 3),
    "nelson 2": (n) => some(n, 9, 9, 0),
    "two of three": (n) => some(n, 2, 3, 2),
    "four of five": (n) => some(n, 4, 5, 1),
    "western electric 4": (n) => some(n, 8, 8, 0),
  };
  const alike: Record<string, string> = {
    "nelson 1": "1",
    "western electric 1": "1",
    "nelson 5": "two of three",
    "western electric 2": "two of three",
    "nelson 6": "four of five",
    "western electric 3": "four of five",
  };
  return z.flatMap((_, i) =>
    rules.some((rule) => tests[alike[rule] ?? rule]?.(i + 1) === true) ? [i + 1] : [],
  );
}
