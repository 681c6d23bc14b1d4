// What wants care, how often, and when was it done?

import type { Row } from "../logbook/model";
import { num, text } from "../logbook/read";

export type CareWhat = "oil" | "clean" | "look" | "change" | "grind" | "other";
export type Tool = "gouger" | "shaper" | "knife" | "reamer" | "mandrel" | "other";

export const CARE_WHATS: readonly CareWhat[] = ["oil", "clean", "look", "change", "grind", "other"];
export const TOOLS: readonly Tool[] = ["gouger", "shaper", "knife", "reamer", "mandrel", "other"];

/** Something to be done again and again: for a machine (its id) or a tool; due by whichever count comes first. */
export interface CareTask {
  id: string;
  what: CareWhat;
  words: string | null;
  machine: string | null;
  tool: Tool | null;
  every_pieces: number | null;
  every_sessions: number | null;
  every_days: number | null;
  /** The instant it starts counting. */
  since: string | null;
  note: string | null;
}

/** It was done, or put off until a calendar day. */
export interface CareDone {
  id: string;
  task: string;
  at: string;
  what: "done" | "put_off";
  until_day: string | null;
  note: string | null;
}

const positive = (value: number | null): number | null => (value !== null && value > 0 ? value : null);

export function readTask(row: Row): CareTask {
  const what = text(row, "what");
  const tool = text(row, "tool");
  return {
    id: row.id,
    what: CARE_WHATS.find((each) => each === what) ?? "other",
    words: text(row, "words"),
    machine: text(row, "machine"),
    tool: tool === null ? null : (TOOLS.find((each) => each === tool) ?? "other"),
    every_pieces: positive(num(row, "every_pieces")),
    every_sessions: positive(num(row, "every_sessions")),
    every_days: positive(num(row, "every_days")),
    since: text(row, "since"),
    note: text(row, "note"),
  };
}

/** Null where task, time or what happened is not said. */
export function readDone(row: Row): CareDone | null {
  const task = text(row, "task");
  const at = text(row, "at");
  const what = text(row, "what");
  if (task === null || at === null || (what !== "done" && what !== "put_off")) return null;
  return { id: row.id, task, at, what, until_day: text(row, "until_day"), note: text(row, "note") };
}
