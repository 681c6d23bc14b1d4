/** Which columns has each table of the records? The same as the server's, in every language. */

import { OUTCOMES, STAGES } from "./model";

export const HEADERS = {
  pieces: ["day", "session", "number", "batch", "lot", "machine", "edge", "began", "at", "minutes", "outcome", "seen", "fully_counted", "note", "id"],
  sessions: ["day", "began", "ended", "machine", "batches", "lots", "edges", "good", "second", "lost", "minutes_a_piece", "left_in_water", "joined_to", "note", "id"],
  batches: ["label", "lot", "planned_day", "pieces", ...STAGES.flatMap((stage) => OUTCOMES.map((outcome) => `${stage}_${outcome}`)), "closed", "note", "id"],
  tallies: ["day", "at", "batch", "lot", "stage", "machine", "edge", "started", "good", "second", "lost", "lost_by", "opening", "note", "id"],
  soaks: ["day", "put_in", "taken_out", "minutes", "planned_minutes", "for", "pieces", "batch", "lot", "jar", "water", "water_c", "mark", "note", "id"],
  care: ["day", "at", "what", "task", "machine", "tool", "until_day", "note", "id"],
  settings: ["day", "at", "machine", "blade", "middle_stop", "middle_stop_way", "shoulder_stop", "shoulder_stop_way", "projection_mm", "template", "why", "id"],
} as const satisfies Record<string, readonly string[]>;

export type TableName = keyof typeof HEADERS;
export const TABLES = Object.keys(HEADERS) as TableName[];
