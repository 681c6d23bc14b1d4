// What is a machine, and how was it set?

import type { Row, Value } from "../logbook/model";
import { dict, flag, num, text, texts } from "../logbook/read";

export type Does = "profile" | "gouge" | "shape" | "tip" | "other";
export type Instrument = "bassoon" | "contrabassoon" | "oboe" | "cor_anglais" | "other";
export type Sense = "clockwise" | "anticlockwise";

export const DOES: readonly Does[] = ["profile", "gouge", "shape", "tip", "other"];
export const INSTRUMENTS: readonly Instrument[] = [
  "bassoon",
  "contrabassoon",
  "oboe",
  "cor_anglais",
  "other",
];

/** Look for a bow after so many pieces: soft steel blunts at 200 to 300. Common practice, no source. */
export const BOW_AFTER_PIECES = 200;

export interface Machine {
  id: string;
  name: string;
  does: Does;
  instrument: Instrument;
  middle_thread: string | null;
  shoulder_thread: string | null;
  middle_lowers: Sense | null;
  shoulder_lowers: Sense | null;
  template: string | null;
  turn_habit: "passes" | "halves" | null;
  counts_turns: boolean;
  bow_after_pieces: number;
  note: string | null;
}

/** Where a stop stands, in the maker's own way: turns from a mark, mm on a gauge, or words. */
export type Stop = { way: "turns" | "mm"; value: number } | { way: "words"; value: string };

/** One whole set-up, never edited: a change is a new one. `projection_mm` is how far the edge stands out of its sole. */
export interface Setting {
  id: string;
  machine: string;
  blade: string | null;
  middle_stop: Stop | null;
  shoulder_stop: Stop | null;
  projection_mm: number | null;
  template: string | null;
  why: string | null;
  at: string;
  /** What was set when this was written; null: not said. */
  moved: readonly string[] | null;
}

/** The nine things to look at, in the order of the work. */
export const WHATS = [
  "edge",
  "projection",
  "middle_stop",
  "shoulder_stop",
  "pivot",
  "template",
  "scrap",
  "lot",
  "soaked",
] as const;
export type What = (typeof WHATS)[number];
export type Answer = "good" | "needs_work" | "not_looked";

const oneOf = <T extends string>(options: readonly T[], value: string | null): T | null =>
  options.find((each) => each === value) ?? null;
const SENSES: readonly Sense[] = ["clockwise", "anticlockwise"];

export function readMachine(row: Row): Machine {
  return {
    id: row.id,
    name: text(row, "name") ?? "?",
    does: oneOf(DOES, text(row, "does")) ?? "profile",
    instrument: oneOf(INSTRUMENTS, text(row, "instrument")) ?? "bassoon",
    middle_thread: text(row, "middle_thread"),
    shoulder_thread: text(row, "shoulder_thread"),
    middle_lowers: oneOf(SENSES, text(row, "middle_lowers")),
    shoulder_lowers: oneOf(SENSES, text(row, "shoulder_lowers")),
    template: text(row, "template"),
    turn_habit: oneOf(["passes", "halves"] as const, text(row, "turn_habit")),
    counts_turns: flag(row, "counts_turns") === true,
    bow_after_pieces: num(row, "bow_after_pieces") ?? BOW_AFTER_PIECES,
    note: text(row, "note"),
  };
}

function readStop(value: { [name: string]: Value }): Stop | null {
  const { way, value: where } = value;
  if ((way === "turns" || way === "mm") && typeof where === "number" && Number.isFinite(where))
    return { way, value: where };
  if (way === "words" && typeof where === "string") return { way, value: where };
  return null;
}

/** Null where machine or time is not said. */
export function readSetting(row: Row): Setting | null {
  const machine = text(row, "machine");
  const at = text(row, "at");
  if (machine === null || at === null) return null;
  return {
    id: row.id,
    machine,
    blade: text(row, "blade"),
    middle_stop: readStop(dict(row, "middle_stop")),
    shoulder_stop: readStop(dict(row, "shoulder_stop")),
    projection_mm: num(row, "projection_mm"),
    template: text(row, "template"),
    why: text(row, "why"),
    at,
    moved: row.fields["moved"] ? texts(row, "moved") : null,
  };
}

/** The answers given in a session so far. */
export function readChecks(row: Row | undefined): Partial<Record<What, Answer>> {
  const checks: Partial<Record<What, Answer>> = {};
  for (const what of WHATS) {
    const answer = oneOf(["good", "needs_work", "not_looked"] as const, text(row, `check/${what}`));
    if (answer !== null) checks[what] = answer;
  }
  return checks;
}
