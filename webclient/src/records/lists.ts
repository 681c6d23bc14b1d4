/** What was done when, newest first, and what of it has this lot, this edge, this fault? */

import {
  count,
  type Derived,
  type Entries,
  type Entry,
  type Fields,
  flag,
  instant,
  numbers,
  type Outcome,
  OUTCOMES,
  STAGES,
  text,
  texts,
} from "./model";
import { goodOf, isWrittenUp, lostOf } from "./stands";
import { minutesBetween } from "./tables";
import { toHundredths } from "./rules";

/** What a line can be looked for by. */
interface Sought {
  lots: readonly string[];
  /** `3/1`: the blade's label and its life */
  edges: readonly string[];
  faults: readonly string[];
}

export interface PieceLine extends Sought {
  id: string;
  session: string | null;
  number: number | null;
  label: string | null;
  outcome: Outcome | null;
  /** what another phone said of the same piece; it counts once */
  alsoSaid: readonly Outcome[];
  minutes: number | null;
  /** milliseconds */
  at: number | null;
  note: string | null;
}

/** A session at the machine, or the same written up later in numbers. */
export interface WorkLine extends Sought {
  id: string;
  kind: "session" | "tally";
  began: number | null;
  ended: number | null;
  /** the calendar day, where only that is known */
  day: string | null;
  labels: readonly string[];
  batches: readonly string[];
  machine: string | null;
  counts: Record<Outcome, number>;
  /** how each piece ended, in the order they came off; empty where only totals are known */
  pieces: readonly PieceLine[];
  minutes: number | null;
  note: string | null;
}

export interface BatchLine extends Sought {
  id: string;
  label: string | null;
  planned: string | null;
  pieces: number | null;
  counts: Record<Outcome, number>;
  /** how many came through each stage, good or second; null where it was never written up */
  came: readonly (number | null)[];
  closed: boolean;
  note: string | null;
}

export interface Lines {
  work: readonly WorkLine[];
  batches: readonly BatchLine[];
  pieces: readonly PieceLine[];
}

export interface Filter {
  lot: string | null;
  edge: string | null;
  fault: string | null;
}

export const EVERYTHING: Filter = { lot: null, edge: null, fault: null };

export const matches = (line: Sought, filter: Filter): boolean =>
  (filter.lot === null || line.lots.includes(filter.lot)) &&
  (filter.edge === null || line.edges.includes(filter.edge)) &&
  (filter.fault === null || line.faults.includes(filter.fault));

/** What occurs in these lines, each once: lots and edges newest first, faults by how often. */
export function occurring(lines: readonly Sought[]): Record<"lots" | "edges" | "faults", string[]> {
  const [lots, edges, faults] = [new Set<string>(), new Set<string>(), new Map<string, number>()];
  for (const line of lines) {
    for (const lot of line.lots) lots.add(lot);
    for (const edge of line.edges) edges.add(edge);
    for (const fault of line.faults) faults.set(fault, (faults.get(fault) ?? 0) + 1);
  }
  return {
    lots: [...lots],
    edges: [...edges],
    faults: [...faults].sort(([, a], [, b]) => b - a).map(([fault]) => fault),
  };
}

/** Newest first; what has no time stands last. */
const newestFirst = (a: { at: number | null; id: string }, b: { at: number | null; id: string }): number =>
  (b.at ?? -1) - (a.at ?? -1) || (a.id < b.id ? 1 : -1);

const unique = (words: readonly (string | null | undefined)[]): string[] => [
  ...new Set(words.filter((word): word is string => !!word)),
];

const shown = (entries: Entries, kind: string): readonly Entry[] =>
  (entries[kind] ?? []).filter(({ fields }) => fields["removed"] !== true);

export function linesOf(entries: Entries, derived: Derived): Lines {
  const known = new Map<string, Fields>();
  for (const [kind, found] of Object.entries(entries))
    for (const { id, fields } of found) known.set(`${kind}/${id}`, fields);
  const look = (kind: string, id: string | null): Fields => known.get(`${kind}/${id ?? ""}`) ?? {};
  const lotOf = (batch: string | null): string | null =>
    text(look("lot", text(look("batch", batch), "lot")), "label");
  const machineOf = (f: Fields): string | null => text(look("machine", text(f, "machine")), "name");

  const pieces = shown(entries, "piece").map(({ id, fields: f }): PieceLine => {
    const batch = text(f, "batch");
    return {
      id,
      session: text(f, "session"),
      number: count(f, "number"),
      label: text(look("batch", batch), "label"),
      lots: unique([lotOf(batch)]),
      edges: unique([derived.piece_edge[id]]),
      faults: texts(f, "seen"),
      outcome: derived.outcome[id] ?? null,
      alsoSaid: othersSaid(f, derived.outcome[id]),
      minutes: minutesBetween(f, "began", "at"),
      at: instant(f, "at"),
      note: text(f, "note"),
    };
  });
  const bySession = new Map<string, PieceLine[]>();
  for (const piece of pieces) {
    if (piece.outcome === null || piece.session === null) continue;
    bySession.set(piece.session, [...(bySession.get(piece.session) ?? []), piece]);
  }

  const sessions = shown(entries, "session").map(({ id, fields: f }): WorkLine => {
    const own = (bySession.get(id) ?? []).sort((a, b) => (a.number ?? 0) - (b.number ?? 0));
    const batches = texts(f, "batches");
    const taken = own.map(({ minutes }) => minutes).filter((minutes): minutes is number => minutes !== null);
    return {
      id,
      kind: "session",
      began: instant(f, "began"),
      ended: instant(f, "ended"),
      day: null,
      labels: unique(batches.map((batch) => text(look("batch", batch), "label"))),
      batches,
      machine: machineOf(f),
      lots: unique([...batches.map(lotOf), ...own.flatMap(({ lots }) => lots)]),
      edges: unique(own.flatMap(({ edges }) => edges)),
      faults: unique(own.flatMap(({ faults }) => faults)),
      counts: counted(own.map(({ outcome }) => outcome)),
      pieces: own,
      minutes: taken.length
        ? toHundredths(Math.round(taken.reduce((a, b) => a + b, 0) * 100) / 100, taken.length)
        : null,
      note: text(f, "note"),
    };
  });
  const written = shown(entries, "tally")
    .filter(({ fields }) => isWrittenUp(fields))
    .map(({ id, fields: f }): WorkLine => {
      const batch = text(f, "batch");
      return {
        id,
        kind: "tally",
        began: instant(f, "at"),
        ended: null,
        day: text(f, "day"),
        labels: unique([text(look("batch", batch), "label")]),
        batches: batch === null ? [] : [batch],
        machine: machineOf(f),
        lots: unique([lotOf(batch)]),
        edges: derived.tally_edges[id] ?? [],
        faults: Object.keys(numbers(f, "lost_by")),
        counts: { good: goodOf(f), second: count(f, "second_count") ?? 0, lost: lostOf(f) },
        pieces: [],
        minutes: null,
        note: text(f, "note"),
      };
    });
  const work = [
    ...sessions.filter((line) => line.pieces.length > 0 || line.ended === null || line.note !== null),
    ...written,
  ];
  work.sort((a, b) => newestFirst({ at: a.began, id: a.id }, { at: b.began, id: b.id }));

  const byBatch = new Map<string, WorkLine[]>();
  for (const line of work)
    for (const batch of line.batches) byBatch.set(batch, [...(byBatch.get(batch) ?? []), line]);
  const batches = shown(entries, "batch").map(({ id, fields: f }): BatchLine => {
    const own = byBatch.get(id) ?? [];
    const stands = derived.stands[id] ?? {};
    const stood = stands["profiled"];
    return {
      id,
      label: text(f, "label"),
      planned: text(f, "planned_day"),
      pieces: count(f, "pieces"),
      lots: unique([text(look("lot", text(f, "lot")), "label")]),
      edges: unique(own.flatMap(({ edges }) => edges)),
      faults: unique(own.flatMap(({ faults }) => faults)),
      counts: { good: stood?.good ?? 0, second: stood?.second ?? 0, lost: stood?.lost ?? 0 },
      came: STAGES.map((stage) => (stands[stage] ? stands[stage].good + stands[stage].second : null)),
      closed: flag(f, "closed") === true,
      note: text(f, "note"),
    };
  });
  batches.sort((a, b) => compare(b.planned ?? "", a.planned ?? "") || compare(b.id, a.id));
  pieces.sort(newestFirst);
  return { work, batches, pieces };
}

/** Outcomes that stand beside the one that counts. */
function othersSaid(fields: Fields, counts: Outcome | undefined): Outcome[] {
  const standing = Object.entries(fields)
    .filter(([name, value]) => name.startsWith("outcome/") && value !== null)
    .map(([, value]) => value);
  return OUTCOMES.filter((outcome) => outcome !== counts && standing.includes(outcome));
}

const compare = (a: string, b: string): number => (a < b ? -1 : a > b ? 1 : 0);

function counted(outcomes: readonly (Outcome | null)[]): Record<Outcome, number> {
  const counts = { good: 0, second: 0, lost: 0 };
  for (const one of OUTCOMES) counts[one] = outcomes.filter((outcome) => outcome === one).length;
  return counts;
}
