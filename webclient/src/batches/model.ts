/** What a lot of cane, a batch of it and a tally of a stage are, as the records hold them. */
import type { Row } from "../logbook/model";
import { dict, flag, num, text, texts } from "../logbook/read";

export type Stage = "gouged" | "profiled" | "shaped" | "formed" | "finished";
export const STAGES: readonly Stage[] = ["gouged", "profiled", "shaped", "formed", "finished"];

export type Comes = "tube" | "gouged" | "profiled" | "shaped";
export const COMES: readonly Comes[] = ["tube", "gouged", "profiled", "shaped"];

export interface Lot {
  id: string;
  label: string | null;
  comes: Comes | null;
  gouge_mm: number | null;
  diameter_mm: number | null;
  bought: string | null;
  pieces: number | null;
  note: string | null;
}

export interface Batch {
  id: string;
  label: string | null;
  lot: string | null;
  pieces: number | null;
  wantedGood: number | null;
  /** Calendar day in the workshop's time zone. */
  plannedDay: string | null;
  machine: string | null;
  stages: Stage[] | null;
  firstStage: Stage | null;
  note: string | null;
  closed: boolean;
}

/**
 * Numbers of one stage of one batch, for what was not tapped. Where the start is not said, it is all that came out; where
 * good is not said, it is the rest. `opening` with a batch: where it stood; without: what an edge had cut.
 */
export interface Tally {
  id: string;
  batch: string | null;
  stage: Stage | null;
  machine: string | null;
  /** Instant; noon of `day` where only the day is known. */
  at: string | null;
  day: string | null;
  started: number;
  good: number;
  second: number;
  lostBy: Record<string, number>;
  opening: boolean;
  note: string | null;
}

const among = <T extends string>(known: readonly T[], value: string | null): T | null =>
  known.find((one) => one === value) ?? null;

export const asStages = (codes: readonly string[]): Stage[] =>
  codes.map((code) => among(STAGES, code)).filter((stage): stage is Stage => stage !== null);

export const readLot = (row: Row): Lot => ({
  id: row.id,
  label: text(row, "label"),
  comes: among(COMES, text(row, "comes")),
  gouge_mm: num(row, "gouge_mm"),
  diameter_mm: num(row, "diameter_mm"),
  bought: text(row, "bought"),
  pieces: num(row, "pieces"),
  note: text(row, "note"),
});

export function readBatch(row: Row): Batch {
  const stages = asStages(texts(row, "stages"));
  return {
    id: row.id,
    label: text(row, "label"),
    lot: text(row, "lot"),
    pieces: num(row, "pieces"),
    wantedGood: num(row, "wanted_good"),
    plannedDay: text(row, "planned_day"),
    machine: text(row, "machine"),
    stages: stages.length ? stages : null,
    firstStage: among(STAGES, text(row, "first_stage")),
    note: text(row, "note"),
    closed: flag(row, "closed") === true,
  };
}

export function readTally(row: Row): Tally {
  const lostBy: Record<string, number> = {};
  for (const [fault, count] of Object.entries(dict(row, "lost_by")))
    if (typeof count === "number") lostBy[fault] = count;
  const lost = Object.values(lostBy).reduce((sum, count) => sum + count, 0);
  const second = num(row, "second_count") ?? 0;
  const started = num(row, "started") ?? (num(row, "good") ?? 0) + second + lost;
  return {
    id: row.id,
    batch: text(row, "batch"),
    stage: among(STAGES, text(row, "stage")),
    machine: text(row, "machine"),
    at: text(row, "at"),
    day: text(row, "day"),
    started,
    good: num(row, "good") ?? Math.max(0, started - second - lost),
    second,
    lostBy,
    opening: flag(row, "opening") === true,
    note: text(row, "note"),
  };
}
