/** What a change of blade needs to know: what is in the machine, what lies ready, what is under way, when it may have been. */
import type { Tally } from "../batches/model";
import { tallies } from "../batches/state";
import type { BladeAt, ChangeFacts, Stretch } from "../blades/BladeChange";
import { instant } from "../blades/model";
import { changeWarnings, edgeAt, fittedMove, type TwoBlades, twoBladesIn } from "../blades/rules";
import { minute } from "../clock";
import { clockTime, day } from "../language/format";
import { addDays, dayIn, noonOf } from "../language/rules";
import { isDone } from "../profiling/model";
import { openSessions } from "../profiling/rules";
import { pieces, sessions } from "../profiling/state";
import { allBatches } from "./batches_facts";
import { machines } from "./bench_facts";
import { blades, labelOf, moves, piecesOn, timeline, today, zone } from "./care_facts";

/** The blade as it is spoken of, with what its edge has cut. */
export const bladeAt = (id: string): BladeAt => ({ id, label: labelOf(id) ?? "?", pieces: piecesOn(id) });

/** The label of the blade that was in the machine, for "also changed". */
export const bladeThen = (machine: string, at: string): string | null =>
  edgeAt(timeline.value, machine, at)?.blade ?? null;

const after = (at: string): string => new Date(Date.parse(at) + 1).toISOString();

function named(at: string): { name: string; day: string } {
  return { name: `${day(at)}, ${clockTime(at)}`, day: day(dayIn(zone.value, at)) };
}

/** Sessions and tallies on this machine, newest first. */
export function stretchesOn(machine: string): Stretch[] {
  const open = new Set(
    openSessions(machine, sessions.value, pieces.value, minute.value).map((session) => session.id),
  );
  const own = new Map<string, { last: string; highest: number }>();
  for (const piece of pieces.value) {
    if (!isDone(piece) || piece.at === null) continue;
    const known = own.get(piece.session);
    own.set(piece.session, {
      last: known && known.last > piece.at ? known.last : piece.at,
      highest: Math.max(known?.highest ?? 0, piece.number),
    });
  }
  const tapped = sessions.value.flatMap((session): Stretch[] => {
    const cut = own.get(session.id);
    if (session.machine !== machine || cut === undefined) return [];
    return [
      {
        record: session.id,
        ...named(cut.last),
        pieces: cut.highest,
        after: after(cut.last),
        under_way: open.has(session.id),
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
    return [{ record: tally.id, ...named(at), pieces: tally.started, after: after(at), under_way: false }];
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
        pieces: one.left,
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
