/** All words of Records. */

import { clockTime, day, list, number, plural } from "../language/format";
import type { Value } from "../logbook/model";
import type { Outcome } from "./model";
import type { TableName } from "./tables";

const pieces = (n: number): string => `${number(n)} ${plural(n, { one: "piece", other: "pieces" })}`;

/** Only "second" has a plural of its own. */
const outcome = (one: Outcome, n: number): string =>
  `${number(n)} ${one === "second" ? plural(n, { one, other: "seconds" }) : one}`;

/** What a person writes; ticks, ids and what the phone fills in are left out of the past. */
const TOLD =
  "note text label name planned_day pieces batches seen mark good started second_count lost_by removed".split(
    " ",
  );

const plain = (code: string): string => code.replaceAll("_", " ");

export const words = {
  records: "Records",
  sessions: "Sessions",
  batches: "Batches",
  pieces: "Pieces",
  show: "what to show",
  look: (chosen: readonly string[]): string => (chosen.length ? list(chosen) : "All of them"),
  lookSub: "by lot, edge, what was seen",
  allOf: { lots: "every lot", edges: "every edge", faults: "whatever was seen" },
  byLot: "Lot",
  byEdge: "Edge",
  byFault: "What was seen",
  done: "Show them",
  found: (n: number): string => plural(n, { one: `${number(n)} found`, other: `${number(n)} found` }),
  lot: (label: string): string => `lot ${label}`,
  /** `3/1`: blade 3, its first edge, which goes without saying */
  edge: (key: string): string => {
    const [label = "?", life = "1"] = key.split("/");
    return life === "1" ? `blade ${label}` : `blade ${label}, edge ${number(Number(life))}`;
  },
  batch: (labels: readonly string[]): string => (labels.length ? list(labels) : "no batch"),
  counts: (counts: Record<Outcome, number>): string => {
    const said = (["good", "second", "lost"] as const)
      .filter((one) => counts[one] > 0)
      .map((one) => outcome(one, counts[one]));
    return said.length ? said.join(", ") : "no piece yet";
  },
  outcome: { good: "good", second: "second", lost: "lost" } as Record<Outcome, string>,
  none: "not finished",
  totalsOnly: "totals only",
  aPiece: (min: number): string => `${number(min, 1)} min a piece`,
  min: (min: number): string => number(min, 1),
  took: (min: number): string => `${number(min, 1)} min`,
  day: (at: number | string): string => day(at),
  from: (began: number, ended: number | null): string =>
    ended === null ? `${clockTime(began)}, still open` : `${clockTime(began)} to ${clockTime(ended)}`,
  open: (label: string): string => `Open ${label}`,
  planned: (n: number | null): string => (n === null ? "no piece yet" : pieces(n)),
  openSub: (n: number, good: number): string => `${pieces(n)}, ${number(good)} good`,
  nothing: "Nothing is written down yet",
  nothingSub: "What is cut, soaked and cared for is kept here by itself.",
  noneFound: "Nothing like that is written down.",
  more: (n: number): string => `${number(n)} more`,
  moreSub: (left: number): string => `${number(left)} older ones`,
  back: "Back to Records",
  backSub: "newest first",
  today: "To Today",
  piece: (n: number | null): string => (n === null ? "piece" : `piece ${number(n)}`),
  pieceOf: (n: number | null, label: string | null): string =>
    n === null ? (label ?? "?") : `${label ?? "?"}, ${number(n)}`,
  heap: (counts: string): string => `as they lie: ${counts}`,
  eachPiece: "Each piece",
  columns: {
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
  },
  stages: {
    gouged: "gouged",
    profiled: "profiled",
    shaped: "shaped",
    formed: "formed",
    finished: "finished",
  } as Record<string, string>,
  notes: "Notes",
  atTheMachine: "At the machine",
  stands: "Through the stages",
  past: "Written here before",
  by: (device: string): string => `on ${device}`,
  thisPhone: "this phone",
  anotherDevice: "another device",
  became: (name: string, value: string): string => `${plain(name)}: ${value}`,
  isTold: (name: string): boolean => TOLD.includes(name),
  alsoSaid: (said: readonly Outcome[]): string => `also said: ${list(said.map((one) => words.outcome[one]))}`,
  also: (value: string): string => `also changed on another device: ${value} stands`,
  takenBack: "taken back",
  value: (value: Value): string => {
    if (value === null) return "nothing";
    if (typeof value === "boolean") return value ? "yes" : "no";
    if (typeof value === "number") return number(value);
    if (typeof value === "string")
      return /^\d{4}-\d\d-\d\dT/.test(value)
        ? `${day(value)} ${clockTime(value)}`
        : /^\d{4}-\d\d-\d\d$/.test(value)
          ? day(value)
          : value;
    if (Array.isArray(value)) return value.length ? list(value.map((one) => words.value(one))) : "nothing";
    return Object.entries(value)
      .map(([name, one]) => `${name} ${words.value(one)}`)
      .join(", ");
  },
  kind: plain,

  takeAlong: "Take along",
  takeAlongSub: "tables, one file",
  copies: "Take along, bring in",
  copiesSub: "needs no network",
  tables: "As tables",
  tablesSub: "for a spreadsheet; names and columns stay the same",
  table: (name: TableName): string => name.charAt(0).toUpperCase() + name.slice(1),
  lines: (n: number): string => plural(n, { one: `${number(n)} line`, other: `${number(n)} lines` }),
  whole: "Everything in one file",
  wholeSub: "all that this phone holds; an empty Easelside takes it in",
  saveWhole: "Save everything",
  share: "Share",
  saved: (name: string): string => `${name} lies in this phone's downloads.`,
  bringIn: "Bring in",
  bringInSub: "a file of another Easelside, into an empty one",
  chooseFile: "Choose the file",
  full: "This workshop holds records already: bringing more in would mix two workshops. An empty phone takes a file.",
  brought: (n: number): string => `${number(n)} records are here, word for word.`,
  seal: (state: string): string => `Seal ${state.slice(0, 8).toUpperCase()}`,
  sealSub: "the same letters on both sides: the same records",
  notBrought: {
    not_empty: "Nothing was brought in: this workshop holds records already.",
    not_ours: "Nothing was brought in: this is no whole file of Easelside. Its name ends in .json.",
    newer: "Nothing was brought in: a newer Easelside made this file. Bring this one up to date.",
    damaged: "Nothing was brought in: the file is not as it was made. Take it along once more.",
    not_same: "The records are here, but not as in the file. Keep the file, and compare them.",
  },

  setAside: "Set aside",
  setAsideLine: (refused: number, hidden: number): string =>
    list(
      [refused ? `${number(refused)} not taken` : "", hidden ? `${number(hidden)} removed` : ""].filter(
        Boolean,
      ),
    ),
  refused: "Not taken by the workshop",
  refusedSub: "Out of what is shown, and kept here, word for word.",
  hidden: "Removed",
  hiddenSub: "Out of sight, not out of the records.",
  writtenSince: (names: readonly string[]): string => `written since: ${list(names.map(plain))}`,
  showAgain: "Show again",
  saveOne: "Save as a file",
  nothingAside: "Nothing is set aside.",
};
