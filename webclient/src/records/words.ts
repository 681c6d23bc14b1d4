/** All words of Records. */

import { clockTime, day, list, number, plural } from "../language/format";
import type { Value } from "../logbook/model";
import type { Outcome } from "./model";
import type { TableName } from "./tables";

const pieces = (n: number): string => `${number(n)} ${plural(n, { one: "piece", other: "pieces" })}`;

const outcomes: Record<Outcome, (n: number) => string> = {
  good: (n) => `${number(n)} good`,
  second: (n) => `${number(n)} ${plural(n, { one: "second", other: "seconds" })}`,
  lost: (n) => `${number(n)} lost`,
};

const kinds: Record<string, string> = {
  workshop: "workshop",
  device: "phone or laptop",
  machine: "machine",
  setting: "setting",
  blade: "blade",
  blade_move: "move of a blade",
  lot: "lot",
  batch: "batch",
  soak: "soak",
  session: "session",
  piece: "piece",
  tally: "count of a stage",
  care_task: "care",
  care_done: "care done",
  note: "note",
};

const fields: Record<string, string> = {
  note: "note",
  text: "note",
  label: "label",
  name: "name",
  planned_day: "planned for",
  pieces: "pieces",
  wanted_good: "good wanted",
  began: "began",
  ended: "ended",
  at: "at",
  batches: "batches",
  batch: "batch",
  left_in_water: "left in the water",
  seen: "what was seen",
  lot: "lot",
  mark: "how they cut",
  good: "good",
  started: "pieces",
  second_count: "seconds",
  lost_by: "lost to",
  taken_out: "taken out",
  put_in: "put in",
  closed: "put away",
  removed: "removed",
};

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
      .map((one) => outcomes[one](counts[one]));
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
    machine: "machine",
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
  became: (name: string, value: string): string => `${fields[name] ?? name}: ${value}`,
  isTold: (name: string): boolean => Object.hasOwn(fields, name),
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
  kind: (kind: string): string => kinds[kind] ?? kind,

  takeAlong: "Take along",
  takeAlongSub: "tables, one file",
  copies: "Take along, bring in",
  copiesSub: "needs no network",
  tables: "As tables",
  tablesSub: "for a spreadsheet; names and columns stay the same",
  table: {
    pieces: "Pieces",
    sessions: "Sessions",
    batches: "Batches",
    tallies: "Written up later",
    soaks: "Soaks",
    care: "Care",
    settings: "Settings",
  } as Record<TableName, string>,
  lines: (n: number): string => plural(n, { one: `${number(n)} line`, other: `${number(n)} lines` }),
  whole: "Everything in one file",
  wholeSub: "all that this phone holds; an empty Easelside takes it in",
  saveWhole: "Save everything",
  share: "Share",
  saved: (name: string): string => `${name} lies in this phone's downloads.`,
  bringIn: "Bring in",
  bringInSub: "a file of another Easelside, into an empty one",
  chooseFile: "Choose the file",
  full: "This workshop holds records already, so no file is brought in: two workshops would be mixed. An empty phone or a new workshop takes it.",
  brought: (n: number): string => `${number(n)} records are here, word for word.`,
  seal: (state: string): string => `Seal ${state.slice(0, 8).toUpperCase()}`,
  sealSub: "the same letters on both sides: the same records",
  notBrought: {
    not_empty: "This workshop holds records already, so nothing was brought in.",
    not_ours:
      "Nothing was brought in: this is no file of Easelside, or it ends too early. Choose the one whose name ends in .json.",
    newer: "Nothing was brought in: a newer Easelside made this file. Bring this one up to date first.",
    damaged:
      "Nothing was brought in: the file is not as it was made. Take it along once more, from where it came.",
    not_same:
      "The records are here, but not as in the file. Keep the file, and compare them before you go on.",
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
  writtenSince: (names: readonly string[]): string =>
    `written since: ${list(names.map((name) => fields[name] ?? name))}`,
  showAgain: "Show again",
  saveOne: "Save as a file",
  nothingAside: "Nothing is set aside.",
};
