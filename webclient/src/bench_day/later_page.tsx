/** Written up later: a tally, a blade change that nobody said, an opening count. Joins batches, blades and sessions. */

import { signal } from "@preact/signals";
import { type Batch, STAGES, type Stage, type Tally } from "../batches/model";
import { nextLabel, startingCount } from "../batches/rules";
import { batches, lots, takeBackWritten, tallies } from "../batches/state";
import * as batchWords from "../batches/words";
import { nowText } from "../clock";
import { addDays } from "../language/rules";
import { stageDone } from "../language/stage_words";
import type { Edit } from "../logbook/model";
import { text } from "../logbook/read";
import { logbook } from "../logbook/state";
import { BladeForgotten } from "../profiling/BladeInside";
import { type Later, type LaterChoice, LaterForm, Written } from "../profiling/Later";
import * as later from "../profiling/later_words";
import { isDone } from "../profiling/model";
import { OpeningCount } from "../profiling/OpeningCount";
import { pieces, sessions } from "../profiling/state";
import * as words from "../profiling/words";
import { go, route } from "../route";
import { allBatches, type BatchFacts, factsOf } from "./batches_facts";
import { bladeIn, placeOf, profilers } from "./bench_facts";
import { blades, labelOf, piecesOn, today } from "./care_facts";
import { asStage, moveInside, openingOf, taken, writeOpening, writtenUp } from "./later_orders";
import "../profiling/screen.css";

/** What was written last, so that it can be taken back whole. */
const written = signal<{ edits: readonly Edit[]; pieces: number } | null>(null);

/** How many lie before a stage, waiting for it. */
function waitingFor(one: BatchFacts, stage: Stage | null): number | null {
  if (!stage || one.stands.next?.stage === stage) return one.stands.next?.pieces ?? null;
  const at = one.stands.stages.findIndex((of) => of.stage === stage);
  return one.stands.stages[at - 1]?.lying ?? null;
}

/** The machine that this batch is for, else that its lot was on last, else the first. */
function machineFor(lot: string | null | undefined, batch?: Batch): string | null {
  const isOf = (id: string | null): boolean => !lot || factsOf(id)?.lot?.id === lot;
  return (
    batch?.machine ??
    sessions.value.findLast(({ machine, batches }) => machine && batches.some(isOf))?.machine ??
    tallies.value.findLast(({ machine, batch }) => machine && isOf(batch))?.machine ??
    profilers.value[0]?.id ??
    null
  );
}

const fromOf = (one: BatchFacts | null, last: Tally | null): string | undefined =>
  one?.batch.pieces ? later.fromBatch : last ? later.fromLast : undefined;

/** `asked`: a batch that was asked for by name, though nothing of it may wait. */
function choices(stage: Stage | null, day: string, asked: string | null): LaterChoice[] {
  const open = allBatches.value.filter((one) => !one.batch.closed && one.stands.next);
  const near = ({ batch, stands }: BatchFacts): number => {
    if (batch.plannedDay === day) return 0;
    const isDue = batch.plannedDay === null || batch.plannedDay <= today.value;
    return isDue && stands.next?.stage === (stage ?? "profiled") ? 1 : isDue ? 2 : 3;
  };
  const last = tallies.value.filter((tally) => !tally.opening).at(-1) ?? null;
  const nearest = open.sort((a, b) => near(a) - near(b)).slice(0, 6);
  const own = factsOf(asked);
  const of = (own && !nearest.includes(own) ? [own, ...nearest] : nearest).map(
    (one): LaterChoice => ({
      id: one.batch.id,
      label: one.label,
      sub: one.lot?.label ? words.lot(one.lot.label) : "",
      pieces: startingCount(waitingFor(one, stage), last),
      from: fromOf(one, last),
      stage: one.stands.next?.stage ?? "finished",
      machine: machineFor(one.lot?.id, one.batch),
    }),
  );
  const start = { pieces: startingCount(null, last), from: fromOf(null, last), stage: "profiled" };
  const free = lots.value.slice(-5).map(
    (lot): LaterChoice => ({
      ...start,
      id: `lot:${lot.id}`,
      label: nextLabel(lot.label, batches.value),
      sub: later.newOf(words.lot(lot.label ?? "")),
      machine: machineFor(lot.id),
    }),
  );
  return [...of, ...free, { ...start, id: "new", label: later.newOne, sub: "", machine: machineFor(null) }];
}

const bladeOptions = () =>
  blades.value.map((blade) => ({ value: blade.id, label: words.blade(blade.label) }));

function write(said: Later): void {
  const edits = writtenUp(said);
  logbook.write(edits);
  written.value = { edits, pieces: said.started };
}

export default function LaterPage() {
  const { rest, query } = route.value;
  const [view, record, piece] = rest;
  if (view === "blade" && record) return <ForgottenInSession session={record} piece={Number(piece) || 1} />;
  if (view === "opening") return <Opening blade={record} />;
  const done = written.value;
  const leave = (): void => {
    written.value = null;
    go("batches");
  };
  if (done) {
    return (
      <Written
        pieces={done.pieces}
        doneLabel={batchWords.title}
        onDone={leave}
        onMore={() => {
          written.value = null;
        }}
        onTakeBack={() => {
          takeBackWritten(done.edits);
          written.value = null;
        }}
      />
    );
  }
  const yesterday = addDays(today.value, -1);
  const stage = asStage(query["stage"]);
  const day = query["day"] === "today" ? today.value : yesterday;
  const asked = query["batch"] ?? null;
  return (
    <LaterForm
      key={`${asked}${stage}${day}`}
      choices={choices(stage, day, asked)}
      stages={STAGES.map((one) => ({ value: one, label: stageDone[one] }))}
      blades={bladeOptions()}
      machines={profilers.value.map((machine) => ({ value: machine.id, label: machine.name }))}
      taken={taken}
      days={{ today: today.value, yesterday }}
      start={{ batch: asked, day, stage }}
      onWrite={write}
    />
  );
}

function ForgottenInSession(p: { session: string; piece: number }) {
  const session = sessions.value.find((one) => one.id === p.session);
  const all = pieces.value.filter((one) => one.session === p.session);
  const start = all.find((one) => one.number === p.piece);
  const own = all
    .filter((one) => isDone(one) && one.batch === start?.batch)
    .sort((a, b) => a.number - b.number);
  const first = own[0] ? placeOf(own[0]) : 1;
  const place = start ? placeOf(start) : first;
  const back = (): void => go("bench", "right");
  const machine = session?.machine ?? text(logbook.row("session", p.session), "machine");
  const write = (blade: string, place: number): void => {
    const piece = own[place - first];
    const at = piece?.began ?? piece?.at ?? session?.began ?? nowText();
    if (machine) logbook.write([moveInside(blade, machine, p.session, piece?.number ?? p.piece, at)]);
    back();
  };
  return (
    <BladeForgotten
      title={words.pieceNow(place, null)}
      first={first}
      pieces={own.length}
      start={place}
      blades={bladeOptions().filter((blade) => blade.value !== (machine ? bladeIn(machine)?.id : null))}
      onWrite={write}
      onBack={back}
    />
  );
}

/** Of one blade, or of those in the machines. */
function Opening(p: { blade: string | undefined }) {
  const back = (): void => (p.blade ? go("care", "blade", p.blade) : go("batches"));
  const said = p.blade ? [p.blade] : profilers.value.flatMap((machine) => bladeIn(machine.id)?.id ?? []);
  const edges = said.map((id) => ({
    value: id,
    label: words.blade(labelOf(id) ?? "?"),
    pieces: piecesOn(id),
    opening: openingOf(id),
  }));
  return (
    <OpeningCount
      edges={edges}
      onBack={back}
      onWrite={(blade, count) => {
        writeOpening(blade, count);
        back();
      }}
    />
  );
}
