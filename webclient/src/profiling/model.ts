/** What a session at the machine and one piece of it are, as the records hold them. */
import type { Row } from "../logbook/model";
import { flag, num, once, prefixed, text, texts } from "../logbook/read";

export type Outcome = "good" | "second" | "lost";
export const OUTCOMES: readonly Outcome[] = ["good", "second", "lost"];

/** One outcome that somebody gave a piece and that nobody took back. `change` is the change that gave it. */
export interface Standing {
  change: string;
  outcome: Outcome;
  when: string;
}

export interface Piece {
  id: string;
  session: string;
  number: number;
  batch: string | null;
  machine: string | null;
  /** When it came on, when its outcome came (RFC 3339, UTC). */
  began: string | null;
  at: string | null;
  /** Latest first. Two of them: two phones said different things. */
  standing: Standing[];
  seen: string[];
  seenWhen: string | null;
  /** Moments of turning, by device. */
  turns: Record<string, string[]>;
  turnsWhen: Record<string, string>;
  /** Fully counted: no pause, no correction, tapped as it came off. */
  full: boolean;
  /** Written down because a tap had been missed. */
  added: boolean;
  partedFrom: string | null;
  /** What a put-right wrote over: the change that nulled each outcome. */
  nulledBy: Record<string, string>;
}

export interface Session {
  id: string;
  machine: string | null;
  began: string | null;
  ended: string | null;
  batches: string[];
  pausedAt: string | null;
  /** When pausing or going on was last said. */
  pauseSaid: string | null;
  /** When a row of the set-up was last answered. */
  checked: string | null;
  countsTurns: boolean | null;
  joinedTo: string | null;
  /** Sessions that the maker said are not this one. */
  apart: string[];
  leftInWater: number | null;
  winds: Record<string, boolean>;
  /** The number the maker said to be at, on a phone that took over. */
  atPiece: number | null;
  note: string | null;
}

const isOutcome = (value: unknown): value is Outcome => OUTCOMES.some((known) => known === value);

const isText = (value: unknown): value is string => typeof value === "string";

/** The outcome a piece counts with: the latest that stands, or none. */
export const counted = (piece: Piece): Standing | null => piece.standing[0] ?? null;

export const isDone = (piece: Piece): boolean => piece.standing.length > 0;

export function readPiece(row: Row): Piece {
  const standing: Standing[] = [];
  const nulledBy: Record<string, string> = {};
  for (const [change, field] of prefixed(row, "outcome/")) {
    if (isOutcome(field.value)) standing.push({ change, outcome: field.value, when: field.when });
    else nulledBy[change] = field.change;
  }
  standing.sort((a, b) => (a.when < b.when ? 1 : a.when > b.when ? -1 : a.change < b.change ? 1 : -1));
  const turns: Record<string, string[]> = {};
  const turnsWhen: Record<string, string> = {};
  for (const [device, field] of prefixed(row, "turns/")) {
    if (!Array.isArray(field.value)) continue;
    turns[device] = field.value.filter(isText);
    turnsWhen[device] = field.when;
  }
  return {
    id: row.id,
    session: text(row, "session") ?? "",
    number: num(row, "number") ?? 0,
    batch: text(row, "batch"),
    machine: text(row, "machine"),
    began: text(row, "began"),
    at: text(row, "at"),
    standing,
    seen: texts(row, "seen"),
    seenWhen: row.fields["seen"]?.when ?? null,
    turns,
    turnsWhen,
    full: flag(row, "full") === true,
    added: flag(row, "added") === true,
    partedFrom: text(row, "parted_from"),
    nulledBy,
  };
}

export const asPiece = once(readPiece);

export function readSession(row: Row): Session {
  const winds: Record<string, boolean> = {};
  for (const [what, field] of prefixed(row, "wind/")) winds[what] = field.value === true;
  return {
    id: row.id,
    machine: text(row, "machine"),
    began: text(row, "began"),
    ended: text(row, "ended"),
    batches: texts(row, "batches"),
    pausedAt: text(row, "paused_at"),
    pauseSaid: row.fields["paused_at"]?.when ?? null,
    checked:
      prefixed(row, "check/")
        .map(([, { when }]) => when)
        .sort()
        .at(-1) ?? null,
    countsTurns: flag(row, "turns"),
    joinedTo: text(row, "joined_to"),
    apart: texts(row, "apart"),
    leftInWater: num(row, "left_in_water"),
    winds,
    atPiece: num(row, "at_piece"),
    note: text(row, "note"),
  };
}
