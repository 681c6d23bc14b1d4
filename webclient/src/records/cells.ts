/** What stands in one cell of a table, and how is it read from a record? */

import type { Row } from "../logbook/model";
import { dict, flag, num, text } from "../logbook/read";
import { type Cell, compare, count, type Derived, instant, type Look } from "./model";
import { toHundredths } from "./rules";

export interface Facts {
  derived: Derived;
  look: Look;
  /** the calendar day of an instant (milliseconds) in the workshop */
  dayOf: (at: number) => string;
  /** by session, those that ended */
  pieces: ReadonlyMap<string, readonly Row[]>;
}

type Looking = Pick<Facts, "look">;

/** A column's name, and how its cell is read. */
export type Column = readonly [string, (row: Row, facts: Facts) => Cell];

export const words = (name: string, field = name): Column => [name, (row) => text(row, field)];
export const whole = (name: string, field = name): Column => [name, (row) => count(row, field)];
export const figure = (name: string): Column => [name, (row) => num(row, name)];
export const yes = (name: string, field = name): Column => [name, (row) => flag(row, field)];

export const day = (field: string, said = false): Column => [
  "day",
  (row, { dayOf }) => {
    const at = instant(row, field);
    const known = text(row, "day");
    return (said && known) || (at === null ? known : dayOf(at));
  },
];

export const AT: readonly Column[] = [day("at"), words("at")];
export const ID: Column = ["id", (row) => row.id];
export const NOTE = words("note");
export const END = [NOTE, ID];
export const labelOf = ({ look }: Looking, kind: string, id: string | null): string | null =>
  text(look(kind, id), "label");
export const lotOfBatch = (facts: Looking, id: string | null): string | null =>
  labelOf(facts, "lot", text(facts.look("batch", id), "lot"));
export const machineOf = ({ look }: Looking, row: Row | undefined): string | null =>
  text(
    look("machine", text(row, "machine") ?? text(look("session", text(row, "session")), "machine")),
    "name",
  );

export const BATCH: Column = ["batch", (row, facts) => labelOf(facts, "batch", text(row, "batch"))];
export const LOT: Column = [
  "lot",
  (row, facts) =>
    text(row, "lot") ? labelOf(facts, "lot", text(row, "lot")) : lotOfBatch(facts, text(row, "batch")),
];
export const MACHINE: Column = ["machine", (row, facts) => machineOf(facts, row)];

/** To the hundredth; null where they are not said so. */
export function minutesBetween(row: Row, first: string, last: string): number | null {
  const [start, end] = [instant(row, first), instant(row, last)];
  return start === null || end === null || end < start ? null : toHundredths(end - start, 60_000);
}

/** A piece's own; null unless it was fully counted: a pause or a correction says nothing of the work. */
export const minutesOf = (piece: Row): number | null =>
  flag(piece, "full") ? minutesBetween(piece, "began", "at") : null;

/** Minutes a piece as the bench says them: the median, to the hundredth; of fewer than three, none. */
export function medianOf(minutes: readonly (number | null)[]): number | null {
  const taken = minutes.filter((each) => each !== null).sort((a, b) => a - b);
  const [lower, upper] = [taken[(taken.length - 1) >> 1], taken[taken.length >> 1]];
  if (lower === undefined || upper === undefined || taken.length < 3) return null;
  return Math.round(Math.round((lower + upper) * 100) / 2) / 100;
}

export const own = (row: Row, { pieces }: Facts): readonly Row[] => pieces.get(row.id) ?? [];

export const sorted = (all: readonly (string | null | undefined)[]): string[] =>
  [...new Set(all.filter((one) => one !== undefined).map((one) => one ?? ""))].sort(compare);

/** Blade and edge in a column each: a spreadsheet takes 3/1 for a day. `s`: of several, in the same order. */
export const edges = (of: (row: Row, facts: Facts) => readonly string[], s = ""): Column[] =>
  [0, 1].map((part) => [
    (part ? "edge" : "blade") + s,
    (row, facts) =>
      of(row, facts)
        .map((key) => key.split(/\/(?=[^/]*$)/)[part])
        .join(" "),
  ]);

export const ofTask =
  (read: (task: Row | undefined, facts: Facts) => Cell) =>
  (row: Row, facts: Facts): Cell =>
    read(facts.look("care_task", text(row, "task")), facts);

export function stop(name: string): Column[] {
  return [
    [
      name,
      (row) => (typeof dict(row, name).value === "object" ? null : ((dict(row, name).value ?? null) as Cell)),
    ],
    [
      `${name}_way`,
      (row) => (typeof dict(row, name).way === "string" ? (dict(row, name).way as string) : null),
    ],
  ];
}
