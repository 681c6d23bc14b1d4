/** What a change of blade needs to know: what is in the machine, what lies ready, what is under way, when it may have been. */
import type { Tally } from "../batches/model";
import { tallies } from "../batches/state";
import type { BladeAt, ChangeFacts, Stretch } from "../blades/BladeChange";
import { instant } from "../blades/model";
import { changeWarnings, edgeAt, fittedMove, type TwoBlades, twoBladesIn } from "../blades/rules";
import { minute } from "../clock";
import { clockTime, day } from "../language/format";
import { addDays, dayIn, noonOf } from "../language/rules";
import { isDone, type Piece } from "../profiling/model";
import { openSessions } from "../profiling/rules";
import { pieces, sessions } from "../profiling/state";
import { allBatches, factsOf } from "./batches_facts";
import { machines, placeOf } from "./bench_facts";
import { blades, labelOf, moves, piecesOn, timeline, today, zone } from "./care_facts";

/** The blade as it is spoken of, with what its edge has cut. */
export const bladeAt = (id: string): BladeAt => ({ id, label: labelOf(id) ?? "?", pieces: piecesOn(id) });

/** The label of the blade that was in the machine, for "also changed". */
export const bladeThen = (machine: string, at: string): string | null =>
  edgeAt(timeline.value, machine, at)?.blade ?? null;

const after = (at: string): string => new Date(Date.parse(at) + 1).toISOString();

const named = (at: string, batch: string | null) => ({
  name: [factsOf(batch)?.label, day(at), clockTime(at)].filter(Boolean).join(", "),
  day: day(dayIn(zone.value, at)),
  after: after(at),
});

/** What sessions on this machine cut of each batch, and its tallies, newest first. */
export function stretchesOn(machine: string): Stretch[] {
  const open = new Set(
    openSessions(machine, sessions.value, pieces.value, minute.value).map((session) => session.id),
  );
  const here = new Set(sessions.value.flatMap((one) => (one.machine === machine ? one.id : [])));
  const own = new Map<string, Piece[]>();
  for (const piece of pieces.value) {
    const of = `${piece.session} ${piece.batch}`;
    if (isDone(piece) && piece.at && here.has(piece.session)) own.set(of, [...(own.get(of) ?? []), piece]);
  }
  const tapped = [...own.values()].flatMap((cut): Stretch[] => {
    cut.sort((a, b) => a.number - b.number);
    const [first] = cut;
    if (!first) return [];
    const last =
      cut
        .map(({ at }) => at ?? "")
        .sort()
        .at(-1) ?? "";
    return [
      {
        record: first.session,
        ...named(last, first.batch),
        pieces: cut.length,
        numbers: cut.map((piece) => piece.number),
        before: placeOf(first) - 1,
        under_way: open.has(first.session),
      },
    ];
  });
  const written = tallies.value.flatMap((tally: Tally): Stretch[] => {
    const at = instant(tally.at) ?? (tally.day === null ? null : noonOf(tally.day, zone.value));
    if (
      tally.machine !== machine ||
      tally.stage !== "profiled" ||
      tally.opening ||
      at === null ||
      tally.started === 0
    )
      return [];
    return [{ record: tally.id, ...named(at, tally.batch), pieces: tally.started, under_way: false }];
  });
  return [...tapped, ...written].sort((a, b) => (a.after < b.after ? 1 : -1));
}

/** `first`: the blade that was picked to go in. */
export function changeFacts(machine: { id: string; name: string }, first: string | null): ChangeFacts {
  const fitted = fittedMove(timeline.value, machine.id);
  const out = fitted?.blade ?? null;
  const places = timeline.value.blades;
  const ready = blades.value
    .filter(
      (blade) =>
        blade.id !== out && !["away", "retired", "in_use"].includes(places.get(blade.id)?.place ?? "new"),
    )
    .map((blade) => ({ ...bladeAt(blade.id), used: places.get(blade.id)?.used === true }))
    .sort(
      (a, b) =>
        Number(b.id === first) - Number(a.id === first) ||
        Number(a.used) - Number(b.used) ||
        a.pieces - b.pieces,
    );
  const under = {
    sessions: openSessions(machine.id, sessions.value, pieces.value, minute.value),
    batches: allBatches.value
      .filter((one) => one.left > 0)
      .map((one) => ({
        label: one.label,
        machine: one.batch.machine,
        planned_day: one.batch.plannedDay,
        pieces: one.batch.pieces && one.left,
        closed: one.batch.closed,
      })),
  };
  return {
    machine,
    at: `${day(minute.value)}, ${clockTime(minute.value)}`,
    out: out === null ? null : bladeAt(out),
    ready,
    warnings: changeWarnings(machine.id, under, today.value, addDays(today.value, 1)),
    // a blade that goes out now went in before what it cut
    stretches: stretchesOn(machine.id).filter((stretch) => fitted === null || stretch.after > fitted.at),
  };
}

/** The machines that two phones put two blades into. */
export function twoBladesAsked(): TwoBlades[] {
  return twoBladesIn(moves.value).filter((two) =>
    machines.value.some((machine) => machine.id === two.machine),
  );
}
