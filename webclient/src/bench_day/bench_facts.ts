/** What is on at the bench: which machine, which batch, which blade, how long in the water. Joins profiling with the other rooms. */
import { computed, signal } from "@preact/signals";
import { writtenUp } from "../batches/rules";
import { tallies } from "../batches/state";
import { edgeIn } from "../blades/rules";
import { minute, now } from "../clock";
import { logbook } from "../logbook/state";
import type { Piece, Session } from "../profiling/model";
import { type OnBench, onBench } from "../profiling/on_bench";
import { awake, doneOf, openSessions, piecesOf, placeInBatch, rootOf } from "../profiling/rules";
import { type BenchFacts, pieces, piecesIn, sessions } from "../profiling/state";
import { type Machine, readMachine } from "../set_up/model";
import type { Soak } from "../soak/model";
import { inWater_s, takenOutAt } from "../soak/rules";
import { soaks, workshopTime } from "../soak/state";
import { allBatches, factsOf, turnAtBench, turnOn } from "./batches_facts";
import { labelOf, piecesOn, timeline } from "./care_facts";

export const machines = computed((): Machine[] => logbook.rows("machine").map(readMachine));
export const profilers = computed((): Machine[] =>
  machines.value.filter((machine) => machine.does === "profile"),
);

/** What the maker chose on this phone before a session says it; "later": asked and put off. */
export const pickedMachine = signal<string | null>(null);
export const pickedBatch = signal<string | "later" | null>(null);

/** The open session with the latest act, on whichever machine. */
export const openSession = computed((): Session | null => {
  const open = awake(sessions.value, pieces.value, Math.max(minute.value, now()));
  const known = machines.value.map((machine): string | null => machine.id);
  return open.find((session) => [null, ...known].includes(session.machine)) ?? null;
});

function machineNow(): Machine | null {
  const find = (id: string | null | undefined): Machine | undefined =>
    profilers.value.find((machine) => machine.id === id);
  const open = openSession.value;
  const last = sessions.value.at(-1)?.machine;
  const planned = (factsOf(pickedBatch.value) ?? turnAtBench.value)?.batch.machine;
  return (
    find(pickedMachine.value) ??
    (open ? (find(open.machine) ?? null) : (find(planned) ?? find(last) ?? profilers.value[0] ?? null))
  );
}

/** Who only looked at another machine's set-up still stands at the one before; who ticked a row there works there. */
export function leftSetUp(before: string | null): void {
  if (openSession.peek()?.machine !== pickedMachine.peek()) pickedMachine.value = before;
}

const onMachine = (machine: string | null): Session | null =>
  openSessions(machine, sessions.value, pieces.value, Math.max(minute.value, now()))[0] ?? null;

/** The last session that was closed on this machine, so that a tap too early can be undone. */
export function lastClosed(): Session | null {
  const closed = sessions.value.filter(
    (session) => session.ended !== null && now() - Date.parse(session.ended) < 8 * 3_600_000,
  );
  return closed.sort((a, b) => ((a.ended ?? "") < (b.ended ?? "") ? 1 : -1))[0] ?? null;
}

/** `closed`: show this session instead of the open one, as it was. */
export const benchFacts = computed((): BenchFacts => {
  const machine = machineNow();
  const session = onMachine(machine?.id ?? null);
  const now = pickedBatch.value;
  const picked = session || now === "later" || (factsOf(now)?.left ?? 0) > 0 ? now : null;
  const said = session?.batches.at(-1) ?? null;
  const chosen =
    picked === "later"
      ? null
      : (factsOf(picked) ??
        factsOf(said) ??
        (session && piecesOf(session, sessions.value, pieces.value).length > 0 ? null : turnOn(machine?.id)));
  const edge = machine && edgeIn(timeline.value, machine.id);
  return {
    machine: machine && {
      id: machine.id,
      name: profilers.value.length > 1 ? machine.name : null,
      turnHabit: machine.turn_habit ?? "passes",
      countsTurns: machine.counts_turns,
    },
    batch: chosen && {
      id: chosen.batch.id,
      label: chosen.label,
      pieces: chosen.batch.pieces,
      before: cutBefore(chosen.batch.id, chosen.profiled, session),
    },
    lot: chosen?.lot?.label ?? null,
    blade: edge && (labelOf(edge.blade) ?? "?"),
  };
});

/** Pieces of a batch that were cut before this session, or only written up. */
function cutBefore(batch: string, profiled: number, session: Session | null): number {
  const own: Piece[] = session ? piecesOf(session, sessions.value, pieces.value) : [];
  return Math.max(0, profiled - doneOf(own.filter((piece) => piece.batch === batch)).all);
}

/** A piece's place in its batch, over all sessions, after what was only written up; with no batch, in its session. */
export function placeOf(piece: Piece): number {
  const { batch } = piece;
  const session = sessions.value.find(({ id }) => id === piece.session);
  const all = batch ? pieces.value : piecesIn(session ? rootOf(session, sessions.value) : null);
  const before = batch ? writtenUp(batch, "profiled", tallies.value) : 0;
  return placeInBatch(
    before,
    all.filter((one) => one.batch === batch),
    piece,
  );
}

export function bladeIn(machine: string): { id: string; label: string; pieces: number } | null {
  const edge = edgeIn(timeline.value, machine);
  if (!edge) return null;
  return { id: edge.blade, label: labelOf(edge.blade) ?? "?", pieces: piecesOn(edge.blade) };
}

/** Minutes in water of the pieces that go on now: the last taken out for this batch, else those longest in. */
function inWaterNow(batch: string | null, at: number): number | null {
  const mine = soaks.value.filter(
    (soak: Soak) =>
      soak.purpose === "profile" && (batch === null || soak.batch === null || soak.batch === batch),
  );
  const out = mine
    .filter((soak) => takenOutAt(soak) !== null && at - (takenOutAt(soak) ?? 0) < 4 * 3_600_000)
    .sort((a, b) => (takenOutAt(b) ?? 0) - (takenOutAt(a) ?? 0))[0];
  return out ? Math.round(inWater_s(out, at) / 60) : null;
}

/** The bench as it stands; to be called where it is rendered. */
export function bench(): OnBench {
  const at = Math.max(minute.value, now());
  const facts = benchFacts.value;
  return onBench(facts, at, inWaterNow(facts.batch?.id ?? null, workshopTime(at)), placeOf);
}

/** Batches that can go on the machine, those with something left first. */
export const benchBatches = computed(() =>
  allBatches.value.filter(
    (one) => !one.batch.closed && (one.left > 0 || one.batch.id === benchFacts.value.batch?.id),
  ),
);
