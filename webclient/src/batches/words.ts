/** All words of lots, batches and their stages. */
import { clockTime, day, number, pieceCount, plural } from "../language/format";
import { stageDone } from "../language/stage_words";
import type { Comes, Stage } from "./model";

/** The heads of the columns. */
export const stageHeads: Record<Stage, string> = {
  gouged: "gouge",
  profiled: "profile",
  shaped: "shape",
  formed: "form",
  finished: "finish",
};
/** The order to do it. */
export const stageOrder: Record<Stage, string> = {
  gouged: "Gouge",
  profiled: "Profile",
  shaped: "Shape",
  formed: "Form",
  finished: "Finish",
};

export const comesWords: Record<Comes, string> = {
  tube: "as tube",
  gouged: "gouged",
  profiled: "profiled",
  shaped: "shaped",
};

export const title = "Batches";
export const when = (now: number): string => `${day(now)}, ${clockTime(now)}`;
export const none = "No batch yet. A batch is pieces of one lot that go through together.";
export const caption = "where each batch stands";
export const corner = "batch";
export const today = "today";
export const stageOf = (stage: Stage, label: string): string => `${stageOrder[stage]} ${label}`;
export const waits = (n: number, days: number | null): string =>
  days === null
    ? pieceCount(n)
    : days <= 0
      ? `${pieceCount(n)}, since today`
      : `${pieceCount(n)}, ${number(days)} ${plural(days, { one: "day", other: "days" })} dry`;
export const older = (n: number): string =>
  plural(n, { one: "One older one below.", other: `${number(n)} older ones below.` });
export const showOlder = "Older and closed ones";
export const newBatch = "New batch";
export const newLot = "New lot";
export const lotsSub = "or see one";
export const writeUp = "Written up later";
export const opening = "Opening count on an edge";
export const open = "open this batch";

export const batchTitle = (label: string): string => `Batch ${label}`;
export const label = "label on the bag";
export const taken = "Another batch has this label.";
export const lot = "lot";
export const lotTitle = (label: string): string => `Lot ${label}`;
export const openLot = (label: string): string => `See lot ${label}`;
export const openLotSub = "label, gouge, when it was bought";
export const gouge = (unit: string): string => `gouge at the centre, ${unit}`;
export const diameter = (unit: string): string => `outside diameter of the tube, ${unit}`;
export const lotPieces = "pieces bought";
export const bought = "bought on";
export const figureWrong = (most: string): string => `A number from 0 to ${most}.`;
export const lotsSoFar = "Lots so far";
export const noLot = "no lot";
export const lotLegend = "Lot";
export const lotLabel = "label of the lot";
export const comes = "How does it come?";
export const later = "Later";
export const laterSub = "say it when it matters";
export const keep = "Keep it";
export const back = "Batches";
export const pieces = "pieces started";
export const wanted = "good ones wanted";
export const dayLegend = "Planned for";
export const tomorrow = "tomorrow";
export const noDay = "no day";
export const otherDay = "another day";
export const note = "note";
export const stagesLegend = "Stages, in their order";
export const earlier = (stage: string): string => `${stage}: one place earlier`;
export const laterPlace = (stage: string): string => `${stage}: one place later`;
export const asWorkshop = "as the workshop";
export const boughtAs = "cane came";
export const asLot = "as its lot";
export const close = "Close this batch";
export const closeSub = "it leaves the list; all is kept";
export const reopen = "Open it again";
export const tally = "write up";
export const toBench = "To the bench";
export const history = "What was written";
export const tapped = "at the bench";
export const nothing = "nothing yet";
export const numbers = (good: number, second: number, lost: number): string =>
  [
    `${number(good)} good`,
    second ? `${number(second)} ${plural(second, { one: "second", other: "seconds" })}` : "",
    lost ? `${number(lost)} lost` : "",
  ]
    .filter(Boolean)
    .join(", ");
export const strike = "never was";

export const week = "This week and next";
export const columns = {
  day: "day",
  batch: "batch",
  lot: "lot",
  wanted: "wanted",
  start: "start",
  stands: "stands",
  good: "good",
  next: "next",
};
export const planned = "planned";
export const stood = (n: number, stage: Stage): string => `${number(n)} ${stageDone[stage]}`;
