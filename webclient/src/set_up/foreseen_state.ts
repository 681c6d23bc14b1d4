/** What was measured on this machine, and what a maker writes about it. */
import { computed } from "@preact/signals";
import { nowText } from "../clock";
import type { Values } from "../logbook/model";
import { once } from "../logbook/read";
import { logbook, newId } from "../logbook/state";
import { type Point, type Reading, readReading } from "./foreseen_rules";

const asReading = once(readReading);

const all = computed((): Reading[] => logbook.rows("reading").flatMap((row) => asReading(row) ?? []));

export const readingsOf = (machine: string, point: Point): Reading[] =>
  all.value.filter((one) => one.machine === machine && one.point === point);

/** What the piece was, where one has just come off. */
export interface Measured {
  session: string | null;
  batch: string | null;
  piece: string | null;
  minutes_since_cut: number | null;
}

export function writeReading(
  machine: string,
  point: Point,
  value_mm: number,
  wet: boolean,
  of: Measured | null,
): string {
  const record = newId();
  const set: Values = { machine, point, value_mm, wet, at: nowText() };
  for (const [name, value] of Object.entries(of ?? {})) if (value !== null) set[name] = value;
  logbook.write([{ kind: "reading", record, set }]);
  return record;
}

export function takeBackReading(record: string): void {
  logbook.write([{ kind: "reading", record, set: { removed: true }, back: true }]);
}

/** How far off that a piece may be, both ways; null: not said. */
export function giveThickness(machine: string, point: Point, give_mm: number | null): void {
  logbook.write([{ kind: "machine", record: machine, set: { [`${point}_give_mm`]: give_mm } }]);
}

/** What the pieces should measure there, wet or dry: wet cane is thicker. */
export function wantThickness(machine: string, point: Point, value_mm: number, wet: boolean): void {
  const set = { [`${point}_wanted_mm`]: value_mm, [`${point}_wanted_wet`]: wet };
  logbook.write([{ kind: "machine", record: machine, set }]);
}
