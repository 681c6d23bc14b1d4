/** All words of lots, batches and their stages. */
import { clockTime, day, number, plural } from "../language/format";
import type { Comes, Stage } from "./model";

/** The heads of the columns. */
export const stageHeads: Record<Stage, string> = { gouged: "gouge", profiled: "profile", shaped: "shape", formed: "form", finished: "finish" };
/** What was done. */
export const stageDone: Record<Stage, string> = { gouged: "gouged", profiled: "profiled", shaped: "shaped", formed: "formed", finished: "finished" };
/** The order to do it. */
export const stageOrder: Record<Stage, string> = { gouged: "Gouge", profiled: "Profile", shaped: "Shape", formed: "Form", finished: "Finish" };

export const comesWords: Record<Comes, string> = { tube: "as tube", gouged: "gouged", profiled: "profiled", shaped: "shaped" };

export const pieceCount = (n: number): string => `${number(n)} ${plural(n, { one: "piece", other: "pieces" })}`;

export const words = {
  title: "Batches",
  when: (now: number): string => `${day(now)}, ${clockTime(now)}`,
  none: "No batch yet. A batch is pieces of one lot that go through together.",
  caption: "where each batch stands",
  corner: "batch",
  today: "today",
  do: (stage: Stage, label: string): string => `${stageOrder[stage]} ${label}`,
  waits: (n: number, days: number | null): string =>
    days === null ? pieceCount(n) : days <= 0 ? `${pieceCount(n)}, since today` : `${pieceCount(n)}, ${number(days)} ${plural(days, { one: "day", other: "days" })} dry`,
  older: (n: number): string => plural(n, { one: "One older one below.", other: `${number(n)} older ones below.` }),
  showOlder: "Older and closed ones",
  newBatch: "New batch",
  newLot: "New lot",
  writeUp: "Written up later",
  opening: "Opening count on an edge",
  open: "open this batch",

  batchTitle: (label: string): string => `Batch ${label}`,
  label: "label on the bag",
  lot: "lot",
  noLot: "no lot",
  lotLegend: "Lot",
  lotLabel: "label of the lot",
  comes: "How does it come?",
  later: "Later",
  laterSub: "say it when it matters",
  keep: "Keep it",
  back: "Batches",
  pieces: "pieces started",
  wanted: "good ones wanted",
  day: "day planned",
  dayLegend: "Planned for",
  tomorrow: "tomorrow",
  noDay: "no day",
  otherDay: "another day",
  note: "note",
  stagesLegend: "Stages, in their order",
  earlier: (stage: string): string => `${stage}: one place earlier`,
  laterPlace: (stage: string): string => `${stage}: one place later`,
  asWorkshop: "as the workshop",
  boughtAs: "cane came",
  asLot: "as its lot",
  close: "Close this batch",
  closeSub: "it leaves the list; all is kept",
  reopen: "Open it again",
  tally: "write up",
  toBench: "To the bench",
  history: "What was written",
  tapped: "at the bench",
  nothing: "nothing yet",
  numbers: (good: number, second: number, lost: number): string =>
    [`${number(good)} good`, second ? `${number(second)} ${plural(second, { one: "second", other: "seconds" })}` : "", lost ? `${number(lost)} lost` : ""].filter(Boolean).join(", "),
  strike: "never was",

  week: "This week and next",
  columns: { day: "day", batch: "batch", lot: "lot", wanted: "wanted", start: "start", stands: "stands", good: "good", next: "next" },
  planned: "planned",
  stood: (n: number, stage: Stage): string => `${number(n)} ${stageDone[stage]}`,
} as const;
