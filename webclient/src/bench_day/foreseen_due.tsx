/** On which day is each care due? Joins the slips with what this phone has counted since, and with the batches planned. */
import { type DueForeseen, ForeseenDue } from "../care/ForeseenDue";
import { ForeseenDueEvidence } from "../care/ForeseenDueEvidence";
import { type Awaited, daysFrom, outlook, readPace } from "../care/foreseen_rules";
import type { Due } from "../care/rules";
import { daysBetween } from "../language/rules";
import { slip } from "../logbook/slips";
import { NoEvidence } from "../workshop/evidence/Evidence";
import { dues, today } from "./care_facts";
import { dueName } from "./care_names";

const LEVELS = [0.05, 0.5, 0.95];

interface Counts {
  pieces: Awaited | null;
  sessions: Awaited | null;
  daysLeft: number | null;
}

/** Null where the server has said nothing of it, or it is due already. */
function countsNow(task: string): (Counts & { of: Due }) | null {
  const of = dues.value.find((each) => each.task.id === task);
  const body = slip("care", task)?.body;
  if (of === undefined || body === undefined || of.is_due) return null;
  return {
    of,
    pieces: of.pieces && { left: of.pieces.left, pace: readPace(body["pace"]) },
    sessions: of.sessions && { left: of.sessions.left, pace: readPace(body["sessions_pace"]) },
    daysLeft: of.due_day === null ? null : daysBetween(today.value, of.due_day),
  };
}

function dueNow({ of, pieces, sessions, daysLeft }: Counts & { of: Due }): DueForeseen | null {
  const found = outlook(pieces, sessions, daysLeft, LEVELS);
  if (found === null) return null;
  const until = of.put_off_until ?? "";
  const not_before = (day: string): string => (day > until ? day : until);
  const { lower, middle, upper } = daysFrom(today.value, found.days);
  const days = { lower: not_before(lower), middle: not_before(middle), upper: not_before(upper) };
  return { task: of.task.id, days, by: found.by };
}

export function DueHere(p: { task: string; roughly: string | null; line?: boolean }) {
  const counts = countsNow(p.task);
  const moved = dues.value.find((each) => each.task.id === p.task)?.moved ?? null;
  return <ForeseenDue due={counts && dueNow(counts)} roughly={p.roughly} moved={moved} line={p.line} />;
}

export function DueEvidence(p: { subject: string }) {
  const counts = countsNow(p.subject);
  const due = counts && dueNow(counts);
  if (counts === null || due === null) return <NoEvidence />;
  const { of, ...rest } = counts;
  return (
    <ForeseenDueEvidence
      name={dueName(of)}
      due={due}
      today={today.value}
      {...rest}
      upper={daysBetween(today.value, due.days.upper)}
    />
  );
}
