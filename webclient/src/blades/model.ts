// What is a blade, and what happened to it? Blades, their moves, and what was cut, as plain facts.

import type { Row } from "../logbook/model";
import { dict, flag, num, prefixed, text } from "../logbook/read";

/** One blade of the workshop; its label is what is scratched on it ("4"). */
export interface Blade {
  id: string;
  label: string;
  note: string | null;
}

export type MoveWhat = "fitted" | "taken_out" | "sent" | "back" | "ground" | "retired";

/** One move of one blade. `inside_piece` is the first piece cut after the move, when it happened within `inside_record`. */
export interface BladeMove {
  id: string;
  blade: string;
  machine: string | null;
  what: MoveWhat;
  at: string;
  inside_record: string | null;
  inside_piece: number | null;
  /** The blade that this phone saw in the machine when it fitted this one; null: none, or not said. */
  took_out: string | null;
  /** A person said that this move stands, when two phones had each fitted a blade. */
  confirmed: boolean;
  note: string | null;
}

/**
 * Pieces that met an edge: one tapped piece (`number` in its session), or a tally (`number` null, `pieces` started).
 * `at` is an instant with milliseconds in UTC; instants are compared as text.
 */
export interface Cut {
  record: string;
  number: number | null;
  machine: string;
  at: string;
  pieces: number;
  /** "About 150 on this edge already". */
  opening: boolean;
  /** For an opening count: the blade it was said of. */
  blade: string | null;
}

/** One life of a blade, from one grinding to the next; `life` begins at 1. */
export interface Edge {
  blade: string;
  life: number;
}

const MOVES: readonly string[] = ["fitted", "taken_out", "sent", "back", "ground", "retired"];

/** An instant in the one form that compares as text; null where it cannot be read. */
export function instant(value: string | null): string | null {
  if (value === null) return null;
  if (value.length === 24 && value.endsWith("Z")) return value;
  const ms = Date.parse(value);
  return Number.isNaN(ms) ? null : new Date(ms).toISOString();
}

export function readBlade(row: Row): Blade {
  return { id: row.id, label: text(row, "label") ?? "?", note: text(row, "note") };
}

/** Null where blade, time or move is missing or unknown: such a record is kept, and counts for nothing. */
export function readMove(row: Row): BladeMove | null {
  const blade = text(row, "blade");
  const what = text(row, "what");
  const at = instant(text(row, "at"));
  if (blade === null || at === null || what === null || !MOVES.includes(what)) return null;
  return {
    id: row.id,
    blade,
    machine: text(row, "machine"),
    what: what as MoveWhat,
    at,
    inside_record: text(row, "inside_record"),
    inside_piece: num(row, "inside_piece"),
    took_out: text(row, "took_out"),
    confirmed: flag(row, "confirmed") === true,
    note: text(row, "note"),
  };
}

/** A cut as it was written down: what it does not say follows from its session, its day, or the piece it was parted from. */
export type ReadCut = Omit<Cut, "machine" | "at"> & {
  id: string;
  machine: string | null;
  at: string | null;
  day: string | null;
  parted_from: string | null;
};

/** A piece that met the edge: one with any outcome standing. Null where none stands, or it names no session. */
export function readPieceCut(row: Row): ReadCut | null {
  const record = text(row, "session");
  if (record === null || !prefixed(row, "outcome/").some(([, field]) => field.value !== null)) return null;
  return {
    id: row.id,
    record,
    number: num(row, "number"),
    machine: text(row, "machine"),
    at: instant(text(row, "at")),
    day: null,
    pieces: 1,
    opening: false,
    blade: null,
    parted_from: text(row, "parted_from"),
  };
}

/** Pieces begun, by a tally: as written, else all that came out, whatever became of them. */
export function startedOf(row: Row): number {
  const lost = Object.values(dict(row, "lost_by")).reduce<number>(
    (sum, each) => sum + (typeof each === "number" ? each : 0),
    0,
  );
  return num(row, "started") ?? (num(row, "good") ?? 0) + (num(row, "second_count") ?? 0) + lost;
}

/** A tally of profiled pieces, or an opening count on an edge. Null for any other; a batch's opening count wears no edge. */
export function readTallyCut(row: Row): ReadCut | null {
  const opening = flag(row, "opening") === true;
  const pieces = startedOf(row);
  if (pieces <= 0) return null;
  if (opening ? text(row, "batch") !== null : text(row, "stage") !== "profiled") return null;
  return {
    id: row.id,
    record: row.id,
    number: null,
    machine: text(row, "machine"),
    at: instant(text(row, "at")),
    day: text(row, "day"),
    pieces,
    opening,
    blade: opening ? text(row, "blade") : null,
    parted_from: null,
  };
}
