/** All words of Records. */

import { clockTime, day, list, number, pieceCount, plural, sentence } from "../language/format";
import { outcomeCounts } from "../language/outcome_words";
import { stageDone } from "../language/stage_words";
import type { Value } from "../logbook/model";
import type { Outcome } from "./model";
import type { TableName } from "./tables";

/** What a person writes; ticks, ids and what the phone fills in are left out of the past. */
const TOLD =
  "note text label name planned_day pieces batches seen mark good started second_count lost_by removed".split(
    " ",
  );

const plain = (code: string): string => code.replaceAll("_", " ");

export const records = "Records";
export const sessions = "Sessions";
export const batches = "Batches";
export const piecesHead = "Pieces";
export const show = "what to show";
export const look = (chosen: readonly string[]): string => (chosen.length ? list(chosen) : "All of them");
export const lookSub = "by lot, edge, what was seen";
export const allOf = { lots: "every lot", edges: "every edge", faults: "whatever was seen" };
export const byLot = "Lot";
export const byEdge = "Edge";
export const byFault = "What was seen";
export const done = "Show them";
export const found = (n: number): string => `${number(n)} found`;
export const lot = (label: string): string => `lot ${label}`;
/** `3/1`: blade 3, its first edge, which goes without saying */
export const edge = (key: string): string => {
  const [label = "?", life = "1"] = key.split("/");
  return life === "1" ? `blade ${label}` : `blade ${label}, edge ${number(Number(life))}`;
};
export const batch = (labels: readonly string[]): string => (labels.length ? list(labels) : "no batch");
export const counts = (counts: Record<Outcome, number>): string => outcomeCounts(counts, "no piece yet");
export const outcomeName = { good: "good", second: "second", lost: "lost" } as Record<Outcome, string>;
export const none = "not finished";
export const totalsOnly = "totals only";
export const aPiece = (min: number): string => `${number(min, 1)} min a piece`;
export const min = (min: number): string => number(min, 1);
export const took = (min: number): string => `${number(min, 1)} min`;
export const dayAt = (at: number | string): string => day(at);
export const from = (began: number, ended: number | null): string =>
  ended === null ? `${clockTime(began)}, still open` : `${clockTime(began)} to ${clockTime(ended)}`;
export const open = (label: string): string => `Open ${label}`;
export const planned = (n: number | null): string => (n === null ? "no piece yet" : pieceCount(n));
export const openSub = (n: number, good: number): string => `${pieceCount(n)}, ${number(good)} good`;
export const nothing = "Nothing is written down yet";
export const nothingSub = "What is cut, soaked and cared for is kept here by itself.";
export const noneFound = "Nothing like that is written down.";
export const more = (n: number): string => `${number(n)} more`;
export const moreSub = (left: number): string => `${number(left)} older ones`;
export const back = "Back to Records";
export const backSub = "newest first";
export const today = "To Today";
export const piece = (n: number | null): string => (n === null ? "piece" : `piece ${number(n)}`);
export const pieceOf = (n: number | null, label: string | null): string =>
  n === null ? (label ?? "?") : `${label ?? "?"}, ${number(n)}`;
export const heap = (counts: string): string => `as they lie: ${counts}`;
export const eachPiece = "Each piece";
export const columns = {
  day: "day",
  time: "time",
  batch: "batch",
  lot: "lot",
  edge: "edge",
  pieces: "pieces",
  good: "good",
  second: "second",
  lost: "lost",
  minutes: "minutes",
  aPiece: "min a piece",
  seen: "what was seen",
  outcome: "came out",
  piece: "piece",
  planned: "planned for",
  note: "note",
};
export const stages: Record<string, string> = stageDone;
export const notes = "Notes";
export const atTheMachine = "At the machine";
export const stands = "Through the stages";
export const past = "Written here before";
export const by = (device: string): string => `on ${device}`;
export const thisPhone = "this phone";
export const anotherDevice = "another device";
export const became = (name: string, value: string): string => `${plain(name)}: ${value}`;
export const isTold = (name: string): boolean => TOLD.includes(name);
export const alsoSaid = (said: readonly Outcome[]): string =>
  `also said: ${list(said.map((one) => outcomeName[one]))}`;
export const also = (value: string): string => `also changed on another device: ${value} stands`;
export const takenBack = "taken back";
export const valueSaid = (value: Value): string => {
  if (value === null) return "nothing";
  if (typeof value === "boolean") return value ? "yes" : "no";
  if (typeof value === "number") return number(value);
  if (typeof value === "string")
    return /^\d{4}-\d\d-\d\dT/.test(value)
      ? `${day(value)} ${clockTime(value)}`
      : /^\d{4}-\d\d-\d\d$/.test(value)
        ? day(value)
        : value;
  if (Array.isArray(value)) return value.length ? list(value.map((one) => valueSaid(one))) : "nothing";
  return Object.entries(value)
    .map(([name, one]) => `${name} ${valueSaid(one)}`)
    .join(", ");
};
export const kind = plain;

export const takeAlong = "Take along";
export const takeAlongSub = "tables, one file";
export const copies = "Take along, bring in";
export const copiesSub = "needs no network";
export const tables = "As tables";
export const tablesSub = "for a spreadsheet; names and columns stay the same";
export const table = (name: TableName): string => sentence(name);
export const lines = (n: number): string =>
  plural(n, { one: `${number(n)} line`, other: `${number(n)} lines` });
export const whole = "Everything in one file";
export const wholeSub = "all that this phone holds; an empty Easelside takes it in";
export const saveWhole = "Save everything";
export const share = "Share";
export const saved = (name: string): string => `${name} lies in this phone's downloads.`;
export const bringIn = "Bring in";
export const bringInSub = "a file of another Easelside, into an empty one";
export const chooseFile = "Choose the file";
export const full =
  "This workshop holds records already: bringing more in would mix two workshops. An empty phone takes a file.";
export const brought = (n: number): string => `${number(n)} records are here, word for word.`;
export const seal = (state: string): string => `Seal ${state.slice(0, 8).toUpperCase()}`;
export const sealSub = "the same letters on both sides: the same records";
export const notBrought = {
  not_empty: "Nothing was brought in: this workshop holds records already.",
  not_ours: "Nothing was brought in: this is no whole file of Easelside. Its name ends in .json.",
  newer: "Nothing was brought in: a newer Easelside made this file. Bring this one up to date.",
  damaged: "Nothing was brought in: the file is not as it was made. Take it along once more.",
  not_same: "The records are here, but not as in the file. Keep the file, and compare them.",
};

export const setAside = "Set aside";
export const setAsideLine = (refused: number, hidden: number): string =>
  list(
    [refused ? `${number(refused)} not taken` : "", hidden ? `${number(hidden)} removed` : ""].filter(
      Boolean,
    ),
  );
export const refused = "Not taken by the workshop";
export const refusedSub = "Out of what is shown, and kept here, word for word.";
export const never = "It never was";
export const hidden = "Removed";
export const hiddenSub = "Out of sight, not out of the records.";
export const writtenSince = (names: readonly string[]): string => `written since: ${list(names.map(plain))}`;
export const showAgain = "Show again";
export const saveOne = "Save as a file";
export const nothingAside = "Nothing is set aside.";
