/** What does this phone say to the server, and is what came back really the server's answer? */

import type { Acknowledgement, Arrival, Change, End, Row, Value, Winner } from "../logbook/model";

/** A change that a lost logbook had acknowledged goes with what it was answered there. */
export interface SentAgain extends Change {
  given: { when: string; lost: string[] };
}

/** One field of the base that was set aside after a restore. */
export interface Offer {
  kind: string;
  record: string;
  field: string;
  value: Value;
  change: string;
  when: string;
  back: boolean;
  saw: string | null;
}

export interface Offered {
  kind: string;
  record: string;
  field: string;
  change: string;
  winner: Winner | null;
}

export interface Request {
  device: string;
  device_now: string;
  logbook: string | null;
  end: End | null;
  after: number;
  limit: number;
  offers: Offer[];
  changes: (Change | SentAgain)[];
}

export interface Answer {
  logbook: string;
  restored: boolean;
  accepted: Acknowledgement[];
  offered: Offered[];
  /** `offer`: the id is that of an offered field's change */
  refused: { id: string; problem: string; offer: boolean }[];
  changes: Arrival[];
  cursor: number;
  more: boolean;
  end: End | null;
  now: string;
  safe: number;
  /** the revision of what is foreseen; absent: the server foresees nothing */
  slips?: number;
}

type Thing = { [name: string]: unknown };

class NotAnAnswer extends Error {}

function thing(value: unknown): Thing {
  if (typeof value !== "object" || value === null || Array.isArray(value)) throw new NotAnAnswer("object");
  return value as Thing;
}

function text(value: unknown): string {
  if (typeof value !== "string") throw new NotAnAnswer("text");
  return value;
}

function whole(value: unknown): number {
  if (typeof value !== "number" || !Number.isSafeInteger(value) || value < 0) throw new NotAnAnswer("number");
  return value;
}

function yes(value: unknown): boolean {
  if (typeof value !== "boolean") throw new NotAnAnswer("yes or no");
  return value;
}

function list(value: unknown): unknown[] {
  if (!Array.isArray(value)) throw new NotAnAnswer("list");
  return value;
}

function mapOf<T>(value: unknown, read: (one: unknown) => T): Record<string, T> {
  return Object.fromEntries(Object.entries(thing(value)).map(([name, one]) => [name, read(one)]));
}

const orNull = (value: unknown): string | null =>
  value === null || value === undefined ? null : text(value);
const orList = (value: unknown): unknown[] => (value === undefined ? [] : list(value));

function asValue(value: unknown): Value {
  if (value === undefined) throw new NotAnAnswer("value");
  return value as Value; // it came out of JSON
}

function asEnd(value: unknown): End | null {
  if (value === null || value === undefined) return null;
  const end = thing(value);
  return { seq: whole(end.seq), hash: text(end.hash) };
}

function asWinner(value: unknown): Winner {
  const winner = thing(value);
  return {
    value: asValue(winner.value),
    change: text(winner.change),
    seq: whole(winner.seq),
    when: text(winner.when),
    back: winner.back === true,
    saw: orNull(winner.saw),
  };
}

const asWinnerOrNull = (value: unknown): Winner | null => (value === null ? null : asWinner(value));

function asOffered(value: unknown): Offered {
  const one = thing(value);
  return {
    kind: text(one.kind),
    record: text(one.record),
    field: text(one.field),
    change: text(one.change),
    winner: asWinnerOrNull(one.winner),
  };
}

function asAcknowledgement(value: unknown): Acknowledgement {
  const one = thing(value);
  return {
    id: text(one.id),
    seq: whole(one.seq),
    when: text(one.when),
    won: list(one.won).map(text),
    lost: mapOf(one.lost, asWinnerOrNull),
  };
}

function asArrival(value: unknown): Arrival {
  const one = thing(value);
  return {
    id: text(one.id),
    seq: whole(one.seq),
    kind: text(one.kind),
    record: text(one.record),
    when: text(one.when),
    set: mapOf(one.set, asValue),
    saw: mapOf(one.saw ?? {}, orNull),
    back: one.back === true,
    won: list(one.won).map(text),
  };
}

/** A row whose every field was numbered by the server. */
export function asRow(value: unknown): Row {
  const row = thing(value);
  const fields = mapOf(row.fields, (one) => {
    const { back, saw, ...rest } = asWinner(one);
    return { ...rest, back: back ?? false, saw: saw ?? null };
  });
  return { kind: text(row.kind), id: text(row.id), fields };
}

function problemText(value: unknown): string {
  if (typeof value === "string") return value;
  const problem = thing(value);
  return [problem.title, problem.detail].filter((part) => typeof part === "string").join(". ");
}

/** The answer, read through to its end; null where anything in it is not as it must be. */
export function readAnswer(body: unknown): Answer | null {
  try {
    const answer = thing(body);
    return {
      logbook: text(answer.logbook),
      restored: yes(answer.restored),
      accepted: list(answer.accepted).map(asAcknowledgement),
      offered: orList(answer.offered).map(asOffered),
      refused: list(answer.refused).map((value) => {
        const one = thing(value);
        return { id: text(one.id), problem: problemText(one.problem), offer: one.offer === true };
      }),
      changes: list(answer.changes).map(asArrival),
      cursor: whole(answer.cursor),
      more: yes(answer.more),
      end: asEnd(answer.end),
      now: text(answer.now),
      safe: whole(answer.safe),
      slips: whole(answer.slips ?? 0),
    };
  } catch (problem) {
    if (problem instanceof NotAnAnswer) return null;
    throw problem;
  }
}

export interface Snapshot {
  logbook: string;
  cursor: number;
  end: End | null;
  rows: Row[];
}

/** A snapshot is one JSON text, however long: cut in the middle it is none. */
export function readSnapshot(body: string): Snapshot | null {
  try {
    const all = thing(JSON.parse(body));
    const rows = list(all.records).map(asRow);
    return { logbook: text(all.logbook), cursor: whole(all.cursor), end: asEnd(all.end), rows };
  } catch {
    return null;
  }
}
