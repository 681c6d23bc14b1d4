/** What does a page written up later write down? Joins tallies, batches, machines and blade moves. */
import { STAGES, type Stage } from "../batches/model";
import { nextLabel, tallied } from "../batches/rules";
import { batches, lots, tallyEdit } from "../batches/state";
import { nowText } from "../clock";
import { noonOf } from "../language/rules";
import type { Edit } from "../logbook/model";
import { newId } from "../logbook/state";
import type { Later } from "../profiling/Later";
import { factsOf } from "./batches_facts";
import { profilers } from "./bench_facts";
import { today, zone } from "./care_facts";

export const asStage = (code: string | null | undefined): Stage | null =>
  STAGES.find((stage) => stage === code) ?? null;

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

/** All that a page written up later says: the tally, its batch where it is new, the blade that nobody said. */
export function writtenUp(later: Later): Edit[] {
  const day = later.day;
  const isToday = day === today.peek();
  const at = isToday ? nowText() : noonOf(day, zone.peek());
  const edits: Edit[] = [];
  let batch = later.batch;
  if (batch?.startsWith("lot:")) {
    const lot = batch.slice("lot:".length);
    const label = lots.peek().find((one) => one.id === lot)?.label ?? null;
    batch = newId();
    edits.push({
      kind: "batch",
      record: batch,
      set: { lot, label: nextLabel(label, batches.peek()), pieces: later.started, planned_day: day },
    });
  }
  const stage = asStage(later.stage) ?? "profiled";
  const machine =
    stage === "profiled" ? (factsOf(batch)?.batch.machine ?? profilers.peek()[0]?.id ?? null) : null;
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
