/** What does each drawer of the Chest say, and which stands open because its room wants the maker? */
import { computed } from "@preact/signals";
import { batchForBench } from "../batches/rules";
import { edgeIn } from "../blades/rules";
import { day, dayOf } from "../language/format";
import { text } from "../logbook/read";
import { logbook } from "../logbook/state";
import { isDone } from "../profiling/model";
import { pieces, sessions } from "../profiling/state";
import type { Drawer } from "../workshop/chest_state";
import { allBatches } from "./batches_facts";
import { dues, labelOf, moves, timeline, today } from "./care_facts";
import * as line from "./chest_words";
import { drawer } from "./chest_words";
import { jars, toMark } from "./soak_facts";
import { askedNow } from "./today_asked";
import { underWay } from "./today_facts";

/** Lines of the set-up. */
const LINES = 9;

function soakLine(): { line: string; open: boolean } {
  const first = jars.value[0];
  if (first === undefined)
    return toMark.value !== null
      ? { line: line.to_mark, open: true }
      : { line: line.nothing_in, open: false };
  const ready = first.state !== "in_water";
  return ready
    ? { line: line.is_ready(first.soak.pieces), open: true }
    : { line: line.soaking(first.soak.pieces, first.wait_min), open: false };
}

function todayLine(): string {
  const first = jars.value[0];
  return first === undefined ? day(today.value) : line.ready_at(first.ready);
}

function setUpLine(): { line: string; open: boolean } {
  const open = underWay.value;
  if (open !== null && open.cut === 0)
    return { line: line.set_up_open(Math.max(0, LINES - open.checks)), open: open.checks < LINES };
  const last = sessions.value
    .flatMap(({ checked }) => checked ?? [])
    .sort()
    .at(-1);
  const wanted = open === null && (jars.value.length > 0 || toMark.value !== null);
  if (last === undefined) return { line: line.not_yet, open: wanted };
  return { line: dayOf(last) === today.value ? line.as_earlier : line.as_on(day(last)), open: wanted };
}

function benchLine(): { line: string; open: boolean } {
  const open = underWay.value;
  if (open !== null && open.cut > 0)
    return { line: open.left === 0 ? line.through(open.done) : line.at_piece(open.place), open: true };
  const next = batchForBench(allBatches.value, today.value);
  return {
    line: next === null ? line.nothing_planned : line.planned(next.batch.pieces && next.left, next.label),
    open: false,
  };
}

function batchesLine(): string {
  const open = allBatches.value.filter((each) => !each.batch.closed);
  return open.length === 0 ? line.no_batch : line.batches(open.length);
}

function careLine(): { line: string; open: boolean } {
  const due = dues.value.filter((each) => each.is_due).length;
  if (due > 0) return { line: line.care_due(due), open: true };
  return { line: dues.value.length === 0 ? line.no_care : line.nothing_due, open: false };
}

function recordsLine(): string {
  const tapped = pieces.value.flatMap((piece) => (isDone(piece) && piece.at ? dayOf(piece.at) : []));
  const writtenUp = logbook
    .rows("tally")
    .filter((row) => text(row, "stage") === "profiled" && row.fields["opening"]?.value !== true);
  const tallied = writtenUp.map(
    (row) => text(row, "day") ?? (text(row, "at") === null ? "" : dayOf(text(row, "at") ?? "")),
  );
  const last = [...tapped, ...tallied].sort().at(-1);
  if (last === undefined || last === "") return line.no_records;
  const started = writtenUp.filter((row) => (text(row, "day") ?? dayOf(text(row, "at") ?? 0)) === last);
  const written = started.reduce(
    (sum, row) => sum + (typeof row.fields["started"]?.value === "number" ? row.fields["started"].value : 0),
    0,
  );
  return line.records(tapped.filter((each) => each === last).length + written, day(last));
}

function machineLine(): string {
  const machine = logbook.rows("machine").find((row) => (text(row, "does") ?? "profile") === "profile");
  const name = text(machine, "name");
  if (machine === undefined || name === null) return line.no_machine;
  const edge = moves.value.length > 0 ? edgeIn(timeline.value, machine.id) : null;
  return line.machine(name, edge === null ? null : labelOf(edge.blade));
}

/** All eight, in the Chest's order. */
export const drawers = computed((): Drawer[] => [
  { room: "today", label: drawer.today, line: todayLine(), open: askedNow.value.length > 0 },
  { room: "soak", label: drawer.soak, ...soakLine() },
  { room: "set-up", label: drawer["set-up"], ...setUpLine() },
  { room: "bench", label: drawer.bench, ...benchLine() },
  { room: "batches", label: drawer.batches, line: batchesLine(), open: false },
  { room: "care", label: drawer.care, ...careLine() },
  { room: "records", label: drawer.records, line: recordsLine(), open: false },
  { room: "machine", label: drawer.machine, line: machineLine(), open: false },
]);
