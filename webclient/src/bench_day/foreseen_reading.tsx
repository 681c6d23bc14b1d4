/** Readings and screws: joins a machine with the piece that came off last. */
import { now } from "../clock";
import { isDone } from "../profiling/model";
import { piecesOf } from "../profiling/rules";
import { pieces, sessions } from "../profiling/state";
import { go, route } from "../route";
import { ForeseenReading } from "../set_up/ForeseenReading";
import { ForeseenScrewEvidence } from "../set_up/ForeseenScrewEvidence";
import type { Measured } from "../set_up/foreseen_state";
import { measure, measureSub } from "../set_up/foreseen_words";
import type { Machine } from "../set_up/model";
import { Scribed } from "../workshop";
import { NoEvidence } from "../workshop/evidence/Evidence";
import { benchFacts, machines, openSession, placeOf } from "./bench_facts";

const machineOf = (id: string): Machine | null => machines.value.find((one) => one.id === id) ?? null;

/** The piece that came off this machine last, where that is still to be known: within the hour. */
function lastOff(machine: string): { measured: Measured; number: number | null } | null {
  const session = openSession.value;
  if (!session || session.machine !== machine) return null;
  const done = piecesOf(session, sessions.value, pieces.value).filter((piece) => isDone(piece) && piece.at);
  const last = done.sort((a, b) => ((a.at ?? "") < (b.at ?? "") ? -1 : 1)).at(-1);
  const since = last?.at ? (now() - Date.parse(last.at)) / 60_000 : Number.POSITIVE_INFINITY;
  if (!last || since > 60 || since < 0) return null;
  return {
    measured: {
      session: last.session,
      batch: last.batch,
      piece: last.id,
      minutes_since_cut: Math.round(since * 10) / 10,
    },
    number: placeOf(last),
  };
}

export function ReadingPage(p: { subject: string }) {
  const machine = machineOf(p.subject);
  if (!machine) return <NoEvidence />;
  const last = lastOff(machine.id);
  return (
    <ForeseenReading
      machine={machine}
      measured={last?.measured ?? null}
      piece={last?.number ?? null}
      onBack={() => history.back()}
    />
  );
}

export function ScrewPage(p: { subject: string }) {
  const machine = machineOf(p.subject);
  const point = route.value.rest[2] === "shoulder" ? "shoulder" : "middle";
  return machine ? <ForeseenScrewEvidence machine={machine} point={point} /> : <NoEvidence />;
}

/** The way to it from the bench. */
export function MeasureDoor() {
  const machine = benchFacts.value.machine?.id ?? machines.value[0]?.id;
  return machine ? (
    <Scribed wide label={measure} sub={measureSub} onTake={() => go("evidence", "reading", machine)} />
  ) : null;
}
