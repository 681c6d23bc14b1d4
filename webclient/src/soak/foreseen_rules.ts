// When is cane of this lot ready, best, too soft in this water? Read from the lot's slip; the server reckons the same.

import type { Value, Values } from "../logbook/model";

const GAS_CONSTANT = 8.314462618e-3; // kJ/(mol K), CODATA 2018
const ZERO_C = 273.15;
const COOLING_S = 1500; // a jar is at the room within the hour: common practice, no source
const LONG = 12; // after so many cooling times a jar is as warm as the room
const ALMOST_SURELY = 1.6448536269514722; // standard normal: 9 times in 10 within plus or minus this

// Gauss-Legendre, five points on -1 to 1 (Abramowitz and Stegun, table 25.4)
const NODES = [0, 0.538469310105683, -0.538469310105683, 0.906179845938664, -0.906179845938664];
const WEIGHTS = [
  0.568888888888889, 0.478628670499366, 0.478628670499366, 0.236926885056189, 0.236926885056189,
];

/** Water poured at `poured_c` in a room of `room_c`; null: it is held warm. */
export interface Jar {
  poured_c: number;
  room_c: number | null;
  cooling_s: number;
}

/** Seconds in water; `lower_s` to `upper_s`: where the next soak is ready, 9 times in 10. */
export interface Foreseen {
  ready_s: number;
  lower_s: number;
  upper_s: number;
  best_s: number;
  too_soft_s: number | null;
  too_soft_lower_s: number | null;
  too_soft_upper_s: number | null;
}

/** How many times faster it goes at `c` than at `reference_c`. */
export function speed(c: number, reference_c: number, energy: number): number {
  return Math.exp((energy / GAS_CONSTANT) * (1 / (reference_c + ZERO_C) - 1 / (c + ZERO_C)));
}

export function waterC(time_s: number, jar: Jar): number {
  if (jar.room_c === null) return jar.poured_c;
  return jar.room_c + (jar.poured_c - jar.room_c) * Math.exp(-time_s / jar.cooling_s);
}

/** Seconds at `reference_c` that do what `time_s` in this jar does. */
export function effective_s(time_s: number, jar: Jar, reference_c: number, energy: number): number {
  if (jar.room_c === null) return time_s * speed(jar.poured_c, reference_c, energy);
  const span = Math.min(time_s, LONG * jar.cooling_s);
  const parts = Math.ceil(span / jar.cooling_s);
  const half = span / parts / 2;
  let total = (time_s - span) * speed(jar.room_c, reference_c, energy);
  for (let part = 0; part < parts; part += 1) {
    const middle = (2 * part + 1) * half;
    NODES.forEach((node, i) => {
      const c = waterC(middle + half * node, jar);
      total += half * (WEIGHTS[i] ?? 0) * speed(c, reference_c, energy);
    });
  }
  return total;
}

/** Seconds in this jar that do what `dose_s` at `reference_c` does. */
export function timeFor(dose_s: number, jar: Jar, reference_c: number, energy: number): number {
  let time_s = dose_s / speed(jar.poured_c, reference_c, energy);
  if (jar.room_c === null) return time_s;
  // the speed only falls or only rises, so Newton's steps close in from one side
  for (let i = 0; i < 60; i += 1) {
    const done = effective_s(time_s, jar, reference_c, energy);
    const step = (dose_s - done) / speed(waterC(time_s, jar), reference_c, energy);
    time_s = Math.max(0, time_s + step);
    if (Math.abs(step) <= 1e-9 * Math.max(1, time_s)) break;
  }
  return time_s;
}

const NEEDED = ["at_c", "energy", "energy_sd", "thickness_mm", "ready", "low", "high", "best"] as const;

/** A number of a slip's body; null: it holds none of that name. */
export function told(body: Values, name: string): number | null {
  const value: Value | undefined = body[name];
  return typeof value === "number" && Number.isFinite(value) ? value : null;
}

/** What a slip says of this water; `thickness_mm` null: of cane as thick as the slip's. Null: it cannot say. */
export function foresee(
  body: Values,
  poured_c: number,
  room_c: number | null,
  thickness_mm: number | null,
): Foreseen | null {
  if (NEEDED.some((name) => told(body, name) === null)) return null;
  const of = (name: string): number => told(body, name) ?? 0;
  const [at_c, energy] = [of("at_c"), of("energy")];
  const jar = { poured_c, room_c, cooling_s: told(body, "cooling_s") ?? COOLING_S };
  const thicker = 2 * Math.log((thickness_mm ?? of("thickness_mm")) / of("thickness_mm"));
  const seconds = (dose: number): number => timeFor(Math.exp(dose + thicker), jar, at_c, energy);
  const ready_s = seconds(of("ready"));
  const dose = (kj_mol: number): number => Math.log(effective_s(ready_s, jar, at_c, kj_mol));
  // how much less sure it is in water other than the marks'
  const elsewhere = ALMOST_SURELY * of("energy_sd") * Math.abs(dose(energy + 1) - dose(energy));
  const low = (middle: number, by: string): number =>
    seconds(middle - Math.hypot(middle - of(by), elsewhere));
  const high = (middle: number, by: string): number =>
    seconds(middle + Math.hypot(of(by) - middle, elsewhere));
  const soft = ["soft", "soft_low", "soft_high"].some((name) => told(body, name) === null)
    ? null
    : of("soft");
  return {
    ready_s,
    lower_s: low(of("ready"), "low"),
    upper_s: high(of("ready"), "high"),
    best_s: seconds(of("best")),
    too_soft_s: soft === null ? null : seconds(soft),
    too_soft_lower_s: soft === null ? null : low(soft, "soft_low"),
    too_soft_upper_s: soft === null ? null : high(soft, "soft_high"),
  };
}

/** What a slip rests on, mark by mark. */
export interface Counted {
  good: number;
  still_hard: number;
  too_soft: number;
  all: number;
  /** marks more until it is spoken of as the maker's own */
  wanting: number;
}

export function counted(body: Values): Counted {
  const marks = inner(body["marks"]);
  const [good, still_hard, too_soft] = ["good", "still_hard", "too_soft"].map(
    (mark) => told(marks, mark) ?? 0,
  );
  const all = (good ?? 0) + (still_hard ?? 0) + (too_soft ?? 0);
  return {
    good: good ?? 0,
    still_hard: still_hard ?? 0,
    too_soft: too_soft ?? 0,
    all,
    wanting: told(body, "wanting") ?? Math.max(0, 8 - all),
  };
}

/** How many of a slip's marks come from this water. */
export function inThisWater(body: Values, water: string): number {
  return told(inner(body["waters"]), water) ?? 0;
}

/** One point of a slip: so many soaks, so long, in water poured so warm, that were found so. */
export interface Point {
  minutes: number;
  poured_c: number;
  mark: string;
  times: number;
}

export function pointsOf(body: Values): Point[] {
  const points = body["points"];
  if (!Array.isArray(points)) return [];
  return points.flatMap((one) => {
    if (!Array.isArray(one)) return [];
    const [minutes, poured_c, mark, times] = one;
    return typeof minutes === "number" &&
      typeof poured_c === "number" &&
      typeof mark === "string" &&
      typeof times === "number"
      ? [{ minutes, poured_c, mark, times }]
      : [];
  });
}

/** Chance that a soak so long in this water is ready, and that it is too soft by then: for the curve. */
export function chances(
  body: Values,
  time_s: number,
  poured_c: number,
  room_c: number | null,
): { ready: number; too_soft: number } {
  const of = (name: string): number => told(body, name) ?? 0;
  if (time_s <= 0) return { ready: 0, too_soft: 0 };
  const jar = { poured_c, room_c, cooling_s: told(body, "cooling_s") ?? COOLING_S };
  const dose = Math.log(effective_s(time_s, jar, of("at_c"), of("energy")));
  const [ready, low, high] = [of("ready"), of("low"), of("high")];
  const sd = Math.max(1e-3, (dose < ready ? ready - low : high - ready) / ALMOST_SURELY);
  const soft = told(body, "soft");
  return {
    ready: normalBelow((dose - ready) / sd),
    too_soft:
      soft === null
        ? 0
        : normalBelow((dose - soft) / Math.max(1e-3, (soft - of("soft_low")) / ALMOST_SURELY)),
  };
}

/** Standard normal distribution; Abramowitz and Stegun 26.2.17, to 7.5e-8. */
export function normalBelow(z: number): number {
  const t = 1 / (1 + 0.2316419 * Math.abs(z));
  const tail =
    (Math.exp((-z * z) / 2) / Math.sqrt(2 * Math.PI)) *
    t *
    (0.31938153 + t * (-0.356563782 + t * (1.781477937 + t * (-1.821255978 + t * 1.330274429))));
  return z > 0 ? 1 - tail : tail;
}

function inner(value: Value | undefined): Values {
  return typeof value === "object" && value !== null && !Array.isArray(value) ? value : {};
}
