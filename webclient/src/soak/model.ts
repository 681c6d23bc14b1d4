/** What is in the water, since when, and for how long is it meant to stay? */
import type { Row } from "../logbook/model";
import { num, text } from "../logbook/read";

export const WATERS = ["cold", "room", "warm", "overnight"] as const;
export type Water = (typeof WATERS)[number];

export const PURPOSES = ["profile", "shape", "form", "ream", "scrape", "other"] as const;
export type Purpose = (typeof PURPOSES)[number];

export const MARKS = ["still_hard", "good", "too_soft"] as const;
export type Mark = (typeof MARKS)[number];

/**
 * One lot of pieces that went into one jar together.
 * `put_in`, `taken_out`, `drying_since`, `silenced_at`: RFC 3339 instants as the phone wrote them; a `_skew_ms` beside one
 * is how far that phone's clock was ahead of the workshop's (null: a person typed it, or it was not known).
 * `run`: the id of the first soak of a staggered row; `of_pieces` and `every_s` are that row's plan.
 */
export interface Soak {
  id: string;
  purpose: Purpose;
  pieces: number | null;
  batch: string | null;
  lot: string | null;
  jar: string;
  water: Water;
  water_c: number | null;
  soak_s: number;
  put_in: string | null;
  put_in_skew_ms: number | null;
  taken_out: string | null;
  taken_out_skew_ms: number | null;
  mark: Mark | null;
  drying_since: string | null;
  dried_at: string | null;
  silenced_at: string | null;
  rings_again_at: string | null;
  /** the same for the next group of its row */
  next_silenced_at: string | null;
  next_rings_again_at: string | null;
  run: string | null;
  of_pieces: number | null;
  every_s: number | null;
  note: string | null;
}

/** What this maker said of soaking: `workshop.soak_*`; null where nothing was said. Seconds. */
export interface SoakHabit {
  water: Water | null;
  warm_s: number | null;
  cold_s: number | null;
  overnight_s: number | null;
}

export function readSoak(row: Row): Soak {
  const water = oneOf(WATERS, text(row, "water")) ?? "warm";
  return {
    id: row.id,
    purpose: oneOf(PURPOSES, text(row, "purpose")) ?? "profile",
    pieces: num(row, "pieces"),
    batch: text(row, "batch"),
    lot: text(row, "lot"),
    jar: text(row, "jar") ?? "1",
    water,
    water_c: num(row, "water_c"),
    soak_s: num(row, "soak_s") ?? 0,
    put_in: instant(text(row, "put_in")),
    put_in_skew_ms: num(row, "put_in_skew_ms"),
    taken_out: instant(text(row, "taken_out")),
    taken_out_skew_ms: num(row, "taken_out_skew_ms"),
    mark: oneOf(MARKS, text(row, "mark")),
    drying_since: instant(text(row, "drying_since")),
    dried_at: instant(text(row, "dried_at")),
    silenced_at: instant(text(row, "silenced_at")),
    rings_again_at: instant(text(row, "rings_again_at")),
    next_silenced_at: instant(text(row, "next_silenced_at")),
    next_rings_again_at: instant(text(row, "next_rings_again_at")),
    run: text(row, "run"),
    of_pieces: num(row, "of_pieces"),
    every_s: num(row, "every_s"),
    note: text(row, "note"),
  };
}

export function readHabit(row: Row | undefined): SoakHabit {
  return {
    water: oneOf(WATERS, text(row, "soak_habit")),
    warm_s: num(row, "soak_warm_s"),
    cold_s: num(row, "soak_cold_s"),
    overnight_s: num(row, "soak_overnight_s"),
  };
}

function oneOf<T extends string>(allowed: readonly T[], said: string | null): T | null {
  return allowed.find((each) => each === said) ?? null;
}

function instant(said: string | null): string | null {
  return said !== null && !Number.isNaN(Date.parse(said)) ? said : null;
}
