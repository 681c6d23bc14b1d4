/** What does a page written up later write down? Joins tallies, batches, machines and blade moves. */
import { STAGES, type Stage } from "../batches/model";
import { nextLabel, tallied } from "../batches/rules";
import { batches, lots, tallyEdit } from "../batches/state";
import * as batchWords from "../batches/words";
import { cutBy, edgeKey } from "../blades/rules";
import { nowText } from "../clock";
import { noonOf } from "../language/rules";
import type { Edit, Values } from "../logbook/model";
import { logbook, newId } from "../logbook/state";
import type { Later } from "../profiling/Later";
import { cuts, edgeNow, timeline, today, zone } from "./care_facts";

export const asStage = (code: string | null | undefined): Stage | null =>
  STAGES.find((stage) => stage === code) ?? null;

/** What is wrong with this label for another batch, or for the one of that id. */
export const taken = (label: string, id?: string): string | undefined =>
  batches.value.some((batch) => batch.id !== id && batch.label === label.trim())
    ? batchWords.taken
    : undefined;

/** "At piece 12": inside the record, from that piece on; its time is the record's own. */
export const moveInside = (
  blade: string,
  machine: string,
  record: string,
  piece: number,
  at: string,
): Edit => ({
  kind: "blade_move",
  record: newId(),
  set: { blade, machine, what: "fitted", at, inside_record: record, inside_piece: piece },
});

/** The batch that it is about, and what has to be written where it is a new one. */
function batchOf(later: Later): { batch: string | null; edits: Edit[] } {
  const of = later.batch?.startsWith("lot:") ? later.batch.slice("lot:".length) : null;
  if (!of && later.batch !== "new") return { batch: later.batch, edits: [] };
  const edits: Edit[] = [];
  const known = lots.peek().find((one) => (of ? one.id === of : later.lot && one.label === later.lot));
  let lot = known?.id ?? null;
  if (!lot && later.lot) {
    lot = newId();
    edits.push({ kind: "lot", record: lot, set: { label: later.lot } });
  }
  const label = later.label || (lot && nextLabel(known ? known.label : later.lot, batches.peek()));
  if (!label) return { batch: null, edits };
  const batch = newId();
  const set = { lot, label, pieces: later.started, planned_day: later.day };
  return { batch, edits: [...edits, { kind: "batch", record: batch, set }] };
}

/** All that a page written up later says: the tally, its batch where it is new, the blade that nobody said. */
export function writtenUp(later: Later): Edit[] {
  const day = later.day;
  const isToday = day === today.peek();
  const at = isToday ? nowText() : noonOf(day, zone.peek());
  const { batch, edits } = batchOf(later);
  const stage = asStage(later.stage) ?? "profiled";
  const machine = stage === "profiled" ? later.machine : null;
  const lost = Object.values(later.lostBy).reduce((sum, n) => sum + n, 0);
  const numbers = tallied(later.started, later.second, lost);
  const tally = tallyEdit({
    batch,
    stage,
    machine,
    at,
    day: isToday ? null : day,
    started: later.started,
    good: numbers.good,
    second: numbers.second,
    lostBy: later.lostBy,
  });
  edits.push(tally);
  if (later.bladeIn && machine)
    edits.push(moveInside(later.bladeIn, machine, tally.record, later.atPiece, at));
  return edits;
}

/** What was written as cut before the first count on the edge that a blade has now. */
function openingsOf(blade: string) {
  const now = edgeNow(blade);
  return cuts.value.filter((cut) => {
    const edge = cut.opening && cutBy(timeline.value, cut)[0]?.edge;
    return edge && edgeKey(edge) === now;
  });
}

export const openingOf = (blade: string): number =>
  openingsOf(blade).reduce((sum, cut) => sum + cut.pieces, 0);

/** "About 150 on this edge already": one for an edge, said again it replaces what was said; 0: it did not happen. */
export function writeOpening(blade: string, pieces: number): void {
  const [first, ...others] = openingsOf(blade).map((cut) => cut.record);
  const machine = timeline.peek().blades.get(blade)?.machine ?? null;
  const on = { blade, machine, at: nowText(), opening: true, stage: "profiled" };
  const put = (record: string, set: Values): Edit => ({ kind: "tally", record, set });
  logbook.write([
    pieces
      ? put(first ?? newId(), { ...(first ? {} : on), started: pieces })
      : put(first ?? newId(), { removed: true }),
    ...others.map((record) => put(record, { removed: true })),
  ]);
}
