/** The bench. Joins profiling with batches, machine, blade and what is in the water. */

import { nextLabel } from "../batches/rules";
import { batches, newBatch } from "../batches/state";
import { now } from "../clock";
import { dict } from "../logbook/read";
import { logbook, newId } from "../logbook/state";
import { isDone, type Session } from "../profiling/model";
import type { OnBench } from "../profiling/on_bench";
import type { Meanwhile } from "../profiling/Paused";
import { PutRight } from "../profiling/PutRight";
import { BenchScreen } from "../profiling/Screen";
import { openAgain } from "../profiling/session_orders";
import { adopt, adoptBatch } from "../profiling/settling";
import { sessionAt } from "../profiling/state";
import { AskOne, type Choosing, WhatIsOn } from "../profiling/WhatIsOn";
import * as words from "../profiling/words";
import { go, route } from "../route";
import { changeDevice } from "../set_up/state";
import { soaks } from "../soak/state";
import {
  bench,
  benchBatches,
  lastClosed,
  openSession,
  pickedBatch,
  pickedMachine,
  profilers,
} from "./bench_facts";
import { blades, today } from "./care_facts";
import { putOff } from "./first_asks";
import { taken } from "./later_orders";
import { questions } from "./questions";
import { jars, lotAtHand, lotLabel } from "./soak_facts";

function nameMachine(name: string): void {
  const record = newId();
  logbook.write([{ kind: "machine", record, set: { name, does: "profile", instrument: "bassoon" } }]);
  const session = openSession.peek();
  if (session && session.machine === null) adopt(session, record);
  pickedMachine.value = record;
}

/** Put off for today, here and on Today. */
function machineCanWait(): void {
  const later = dict(logbook.row("device", logbook.device), "later");
  changeDevice({ later: { ...later, machine: today.peek() } });
}

function chooseBatch(id: string): void {
  const session = openSession.peek();
  pickedBatch.value = id;
  if (session && session.batches.length === 0) adoptBatch(session, id);
}

/** The session goes to that machine, where none is under way there. */
function chooseMachine(session: Session | null, id: string): void {
  if (session && !sessionAt(id)) adopt(session, id);
  pickedMachine.value = id;
}

/** What choosing that machine does to the session that is on. */
const subOf = (on: OnBench, machine: string): string =>
  on.session && machine !== on.facts.machine?.id && !sessionAt(machine) ? words.goesThere : "";

const lotNow = (): string | null => lotAtHand(soaks.value, now());

function labelBatch(label: string): void {
  chooseBatch(newBatch({ label, lot: lotNow(), pieces: null, planned_day: null }));
}

const askBatch = {
  title: words.whichBatch,
  sub: words.whichBatchSub,
  field: words.batchField,
  wrong: taken,
};

const choices = (): Choosing[] =>
  benchBatches.value.map((one) => ({
    id: one.batch.id,
    label: one.label,
    sub: [
      one.lot?.label ? words.lot(one.lot.label) : null,
      one.batch.pieces === null ? null : words.leftOf(one.left, one.batch.pieces),
    ]
      .filter(Boolean)
      .join(", "),
  }));

export default function BenchPage() {
  const on = bench();
  const [view] = route.value.rest;
  if (view === "right") {
    return (
      <PutRight
        on={on}
        onBladeChanged={
          blades.value.length ? (piece) => go("later", "blade", piece.session, piece.number) : undefined
        }
      />
    );
  }
  if (view === "batch") {
    return (
      <AskOne
        key="batch"
        {...askBatch}
        start={nextLabel(lotLabel(lotNow()), batches.value)}
        onKeep={(label) => {
          labelBatch(label);
          go("bench");
        }}
        onLater={() => go("bench")}
      />
    );
  }
  if (
    view === "machine" ||
    (!on.facts.machine &&
      !on.session &&
      profilers.value.length === 0 &&
      !putOff(today.value).includes("machine"))
  ) {
    const done = (): void => {
      if (view) go("bench");
    };
    return (
      <AskOne
        key="machine"
        title={words.whichMachine}
        sub={words.whichMachineSub}
        field={words.machineField}
        start=""
        onKeep={(name) => {
          nameMachine(name);
          done();
        }}
        onLater={() => {
          machineCanWait();
          done();
        }}
      />
    );
  }
  if (view === "on") {
    const closed = on.session ? null : lastClosed();
    const { session } = on;
    const batch = on.facts.batch;
    const others = on.own.filter((piece) => isDone(piece) && piece.batch !== batch?.id);
    return (
      <WhatIsOn
        on={on}
        batches={choices()}
        machines={profilers.value.map((one) => ({ id: one.id, label: one.name, sub: subOf(on, one.id) }))}
        onBatch={chooseBatch}
        onMachine={(id) => chooseMachine(on.session, id)}
        too={
          session &&
          batch &&
          others.length > 0 && {
            label: words.tooOf(others.length, batch.label),
            onTake: () => adoptBatch(session, batch.id, others),
          }
        }
        onNewBatch={() => go("bench", "batch")}
        onNewMachine={() => go("bench", "machine")}
        closed={
          closed && {
            words: words.wind.ended(closed.ended ?? ""),
            onAgain: () => {
              openAgain(closed);
              go("bench");
            },
          }
        }
      />
    );
  }
  if (!on.facts.batch && !on.session && pickedBatch.value !== "later") {
    const closed = lastClosed();
    const again = closed
      ? [{ id: "again", label: words.wind.again, sub: words.wind.ended(closed.ended ?? "") }]
      : [];
    return (
      <AskOne
        key="first"
        {...askBatch}
        start=""
        choices={[...choices(), ...again]}
        onChoose={(id) => (id === "again" && closed ? openAgain(closed) : chooseBatch(id))}
        onKeep={labelBatch}
        onLater={() => {
          pickedBatch.value = "later";
        }}
      />
    );
  }
  return <BenchScreen on={on} meanwhile={meanwhile()} asking={questions.value} />;
}

export function meanwhile(): Meanwhile[] {
  return jars.value.map((one) => ({
    id: one.soak.id,
    label: one.name,
    jar: one.soak.jar,
    pieces: one.soak.pieces ?? 6,
    wet: one.wet,
    readyAt: one.ready,
    left: (one.ready - now()) / 60_000,
    been: one.in_min,
    span: one.lath_min,
    mark: one.thread_min,
  }));
}
