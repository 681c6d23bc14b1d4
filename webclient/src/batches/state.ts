/** The lots, batches and tallies as this phone has them, and what a maker writes about them. */
import { computed } from "@preact/signals";
import type { Edit, Values } from "../logbook/model";
import { once } from "../logbook/read";
import { logbook, newId } from "../logbook/state";
import {
  type Batch,
  type Comes,
  type Lot,
  readBatch,
  readLot,
  readTally,
  type Stage,
  type Tally,
} from "./model";

const asBatch = once(readBatch);
const asLot = once(readLot);
const asTally = once(readTally);

export const batches = computed((): Batch[] => logbook.rows("batch").map(asBatch));
export const lots = computed((): Lot[] => logbook.rows("lot").map(asLot));
export const tallies = computed((): Tally[] => logbook.rows("tally").map(asTally));

export const lotOf = (id: string | null): Lot | null => lots.value.find((lot) => lot.id === id) ?? null;

export function newLot(label: string, comes: Comes | null): string {
  const record = newId();
  const set: Values = { label };
  if (comes) set["comes"] = comes;
  logbook.write([{ kind: "lot", record, set }]);
  return record;
}

export interface NewBatch {
  label: string;
  lot: string | null;
  pieces: number | null;
  wanted_good?: number | null;
  planned_day: string | null;
}

export function newBatch(made: NewBatch): string {
  const record = newId();
  const set: Values = {};
  for (const [name, value] of Object.entries(made)) if (value !== null) set[name] = value;
  logbook.write([{ kind: "batch", record, set }]);
  return record;
}

/** Any of a batch's fields, by the names of the records. */
export function changeBatch(batch: string, set: Values): void {
  logbook.write([{ kind: "batch", record: batch, set }]);
}

export function changeLot(lot: string, set: Values): void {
  logbook.write([{ kind: "lot", record: lot, set }]);
}

export interface Numbers {
  batch: string | null;
  stage: Stage;
  machine: string | null;
  /** Instant it counts at; `day` where only that is known. */
  at: string;
  day: string | null;
  started: number;
  good: number;
  second: number;
  lostBy: Record<string, number>;
}

/** The edit that writes a tally, so that others can go with it. */
export function tallyEdit(numbers: Numbers): Edit {
  const set: Values = {
    batch: numbers.batch,
    stage: numbers.stage,
    machine: numbers.machine,
    at: numbers.at,
    day: numbers.day,
    started: numbers.started,
    good: numbers.good,
    second_count: numbers.second,
    lost_by: numbers.lostBy,
  };
  return { kind: "tally", record: newId(), set };
}

/** Takes back what was just written: the records go, all at once. */
export function takeBackWritten(written: readonly { kind: string; record: string }[]): void {
  logbook.write(
    written.map(({ kind, record }): Edit => ({ kind, record, set: { removed: true }, back: true })),
  );
}
