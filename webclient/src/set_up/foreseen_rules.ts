// How far must a stop's screw be turned, so that the pieces come out as thick as they are wanted? As on the server.

import type { Row, Value, Values } from "../logbook/model";
import { flag, num, text } from "../logbook/read";
import type { Sense, Setting, Stop } from "./model";
import { height_mm, pitch_mm } from "./rules";

export type Point = "middle" | "shoulder";
export const POINTS: readonly Point[] = ["middle", "shoulder"];

/** What pieces should measure, before the maker says it; usual for bassoon. Common practice, no source. */
export const STARTING_MM: Readonly<Record<Point, number>> = { middle: 0.4, shoulder: 0.95 };

/** One thickness of one piece. */
export interface Reading {
  id: string;
  machine: string;
  point: Point;
  value_mm: number;
  wet: boolean;
  at: string;
}

/** Null where machine, point, time or a thickness above 0 is not said. */
export function readReading(row: Row): Reading | null {
  const [machine, at, value_mm] = [text(row, "machine"), text(row, "at"), num(row, "value_mm")];
  const point = POINTS.find((one) => one === text(row, "point"));
  if (machine === null || at === null || point === undefined) return null;
  if (value_mm === null || value_mm <= 0 || value_mm >= 20) return null;
  return { id: row.id, machine, point, value_mm, wet: flag(row, "wet") === true, at };
}

/** When the stop or the blade of the present setting was put as it is; `settings` newest first. */
export function stoodSince(settings: readonly Setting[], point: Point): string | null {
  const [now] = settings;
  if (!now) return null;
  const of = (one: Setting): string => JSON.stringify([one.blade, one[`${point}_stop`]]);
  const changed = settings.findIndex((one) => of(one) !== of(now));
  return settings[changed === -1 ? settings.length - 1 : changed - 1]?.at ?? null;
}

/** The readings since then, oldest first, all wet or all dry as the newest is: wet cane is thicker. */
export function alike(readings: readonly Reading[], since: string | null): Reading[] {
  const at = since === null ? 0 : Date.parse(since);
  const here = readings
    .filter((one) => Date.parse(one.at) >= at)
    .sort((a, b) => Date.parse(a.at) - Date.parse(b.at));
  const wet = here.at(-1)?.wet;
  return here.filter((one) => one.wet === wet);
}

/** What a screw does; `covariance` of effect, backlash and creep, lower triangle. */
export interface ScrewEffect {
  effect: number;
  backlash_mm: number;
  creep_mm: number;
  covariance: readonly [number, number, number, number, number, number];
  repeats_mm: number;
  piece_mm: number;
  /** moves with pieces measured before and after them; 0: by the thread alone */
  moves: number;
}

export const BY_THREAD: ScrewEffect = {
  effect: 1,
  backlash_mm: 0.02,
  creep_mm: 0,
  covariance: [0.0625, 0, 0.0004, 0, 0, 0.0001],
  repeats_mm: 0.006,
  piece_mm: 0.015,
  moves: 0,
};

const numbers = (value: Value | undefined, length: number): number[] | null =>
  Array.isArray(value) && value.length === length && value.every((one) => Number.isFinite(one))
    ? value.map(Number)
    : null;

/** From a slip; by the thread alone where it says nothing that can be read. */
export function effectOf(body: Values | undefined): ScrewEffect {
  const of = numbers(body?.["effect"], 3);
  const covariance = numbers(body?.["covariance"], 6) as ScrewEffect["covariance"] | null;
  const [repeats, piece, moves] = [body?.["repeats_mm"], body?.["piece_mm"], body?.["moves"]];
  if (
    !of ||
    !covariance ||
    typeof repeats !== "number" ||
    typeof piece !== "number" ||
    typeof moves !== "number"
  )
    return BY_THREAD;
  const [effect = 1, backlash_mm = 0, creep_mm = 0] = of;
  if (effect <= 0 || piece <= 0) return BY_THREAD;
  return { effect, backlash_mm, creep_mm, covariance, repeats_mm: repeats, piece_mm: piece, moves };
}

/** How pieces come out while the stop stands as it does; `cp` and `cpk` with the ends of their ranges. */
export type Usual =
  | { wanting: number }
  | { pieces: number; wet: boolean; lower: number; upper: number; cp: number[] | null; cpk: number[] | null };

export function usualOf(body: Values | undefined): Usual | null {
  const said = body?.["usual"];
  if (typeof said !== "object" || said === null || Array.isArray(said)) return null;
  const { wanting, pieces, wet, lower, upper } = said;
  if (typeof wanting === "number") return { wanting };
  if (typeof pieces !== "number" || typeof lower !== "number" || typeof upper !== "number") return null;
  const [cp, cpk] = [numbers(said["cp"], 3), numbers(said["cpk"], 3)];
  return { pieces, wet: wet === true, lower, upper, cp, cpk };
}

export const AGREEING = 3;
const MOST = 6;
/** What a dial gauge shows: less is not turned for. */
export const SMALLEST_MM = 0.01;
const LEVEL_Z = 1.6448536269514722;

/** How much too thick the last pieces are, its standard error, and how many they are; null below three. */
export function offBy(
  readings_mm: readonly number[],
  wanted_mm: number,
  piece_mm: number,
): { off: number; error: number; pieces: number } | null {
  const last = readings_mm.slice(-MOST);
  if (last.length < AGREEING) return null;
  const mean = last.reduce((sum, value) => sum + value, 0) / last.length;
  const squares = last.reduce((sum, value) => sum + (value - mean) ** 2, 0);
  const seen = last.length > AGREEING ? Math.sqrt(squares / (last.length - 1)) : 0;
  return {
    off: mean - wanted_mm,
    error: Math.max(piece_mm, seen) / Math.sqrt(last.length),
    pieces: last.length,
  };
}

/** `raise_mm`: how far the stop has to go up (down where negative), between `low_mm` and `high_mm`. */
export interface Move {
  off_mm: number;
  pieces: number;
  raise_mm: number;
  low_mm: number;
  high_mm: number;
}

/** Null where too few pieces were measured, or those agree with what is wanted. */
export function moveFor(
  readings_mm: readonly number[],
  wanted_mm: number,
  effect: ScrewEffect,
  lastRaised: boolean | null,
): Move | null {
  const found = offBy(readings_mm, wanted_mm, effect.piece_mm);
  if (!found || Math.abs(found.off) < Math.max(SMALLEST_MM, 2 * found.error)) return null;
  const { off, error, pieces } = found;
  const up = off < 0;
  const lost = lastRaised !== null && lastRaised !== up ? (up ? 1 : -1) : 0;
  const height = (-off - effect.creep_mm + effect.backlash_mm * lost) / effect.effect;
  const [kk, bk, bb, ck, cb, cc] = effect.covariance;
  const spread =
    kk * height ** 2 + bb * lost ** 2 + cc - 2 * bk * height * lost + 2 * ck * height - 2 * cb * lost;
  const wide = (LEVEL_Z * Math.sqrt(spread + error ** 2 + effect.repeats_mm ** 2)) / effect.effect;
  return { off_mm: off, pieces, raise_mm: height, low_mm: height - wide, high_mm: height + wide };
}

/** How far a stop went from one position to the next: mm, positive for down, or null where it cannot be known. */
export function lowered_mm(
  from: Stop | null,
  to: Stop | null,
  thread: string | null,
  lowers: Sense | null,
): number | null {
  if (from === null || to === null || from.way !== to.way) return null;
  if (from.way === "mm" && to.way === "mm") return from.value - to.value;
  if (from.way !== "turns" || to.way !== "turns" || thread === null || lowers === null) return null;
  const pitch = pitch_mm(thread);
  // turns are counted clockwise from the mark
  return pitch === null ? null : height_mm(pitch, to.value - from.value) * (lowers === "clockwise" ? 1 : -1);
}

/** Degrees to turn for a height, clockwise positive. */
export function clockwiseDegrees(raise_mm: number, pitch_mm: number, lowers: Sense): number {
  const degrees = (360 * raise_mm) / pitch_mm;
  return lowers === "clockwise" ? -degrees : degrees;
}

/** A turn that a hand can do. */
export interface HandTurn {
  /** of a turn, clockwise positive */
  sixteenths: number;
  /** whether the turn that is wanted is less than that, or more */
  than: "less" | "more" | null;
}

const SIXTEENTH = 360 / 16;
/** Degrees that nobody sees at a slot; a judgement. */
const AS_GOOD = 3;

export function handTurn(degrees: number): HandTurn {
  const sixteenths = Math.round(Math.abs(degrees) / SIXTEENTH);
  const over = Math.abs(degrees) - sixteenths * SIXTEENTH;
  const than = Math.abs(over) <= AS_GOOD ? null : over < 0 ? "less" : "more";
  return { sixteenths: sixteenths * Math.sign(degrees), than };
}

/** What was typed on keys without a point: 47 is 0.47 mm, in inches 18 is 18 thousandths. */
export function asTyped_mm(
  typed: string,
  hasPoint: boolean,
  value: number | null,
  inInches: boolean,
): number | null {
  if (value === null || typed === "") return null;
  if (hasPoint) return value;
  return value / (inInches ? 1000 : 100);
}
