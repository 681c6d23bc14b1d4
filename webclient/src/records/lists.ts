/** What was done when, newest first, and what of it has this lot, this edge, this fault? */

import type { Row } from "../logbook/model";
import { flag, prefixed, text, texts } from "../logbook/read";
import { labelOf, lotOfBatch, machineOf, medianOf, minutesOf } from "./cells";
import {
  by,
  count,
  counts,
  type Derived,
  type Entries,
  groupBy,
  instant,
  lookIn,
  OUTCOMES,
  type Outcome,
  STAGES,
  shown,
} from "./model";
import { cameOut, isWrittenUp } from "./stands";

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
  /** its place in its batch, as the bench counts it; without one, in its session; null: not finished */
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
  /** at the machine */
  counts: Record<Outcome, number>;
  /** at all stages together */
  lost: number;
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

const unique = (words: readonly (string | null | undefined)[]): string[] => [
  ...new Set(words.filter((word): word is string => !!word)),
];

export function linesOf(entries: Entries, derived: Derived): Lines {
  const facts = { look: lookIn(entries) };
  const lotOf = (batch: string | null): string | null => lotOfBatch(facts, batch);

  const taken = shown(entries, "piece").filter((row) => derived.outcome[row.id] || text(row, "batch"));
  const inOrder = [...shown(entries, "tally").filter(isWrittenUp), ...taken].sort(by("at"));
  const upTo: Record<string, number> = {};
  const pieces = inOrder.flatMap((f): PieceLine[] => {
    const { id } = f;
    const batch = text(f, "batch");
    const of = batch ?? text(f, "session") ?? "";
    const outcome = derived.outcome[id] ?? null;
    const { good, second, lost } = cameOut(f);
    upTo[of] = (upTo[of] ?? 0) + (outcome ? 1 : good + second + lost);
    if (f.kind === "tally") return [];
    return [
      {
        id,
        session: text(f, "session"),
        number: outcome && upTo[of],
        label: labelOf(facts, "batch", batch),
        lots: unique([lotOf(batch)]),
        edges: unique([derived.piece_edge[id]]),
        faults: texts(f, "seen"),
        outcome,
        alsoSaid: othersSaid(f, derived.outcome[id]),
        minutes: minutesOf(f),
        at: instant(f, "at"),
        note: text(f, "note"),
      },
    ];
  });
  const bySession = groupBy(
    pieces.filter(({ outcome }) => outcome !== null),
    ({ session }) => [session],
  );

  const sessions = shown(entries, "session").map((f): WorkLine => {
    const { id } = f;
    const own = bySession.get(id) ?? [];
    const batches = texts(f, "batches");
    return {
      id,
      kind: "session",
      began: instant(f, "began"),
      ended: instant(f, "ended"),
      day: null,
      labels: unique(batches.map((batch) => labelOf(facts, "batch", batch))),
      batches,
      machine: machineOf(facts, f),
      lots: unique([...batches.map(lotOf), ...own.flatMap(({ lots }) => lots)]),
      edges: unique(own.flatMap(({ edges }) => edges)),
      faults: unique(own.flatMap(({ faults }) => faults)),
      counts: counted(own.map(({ outcome }) => outcome)),
      pieces: own,
      minutes: medianOf(own.map(({ minutes }) => minutes)),
      note: text(f, "note"),
    };
  });
  const written = shown(entries, "tally")
    .filter(isWrittenUp)
    .map((f): WorkLine => {
      const { id } = f;
      const batch = text(f, "batch");
      return {
        id,
        kind: "tally",
        began: instant(f, "at"),
        ended: null,
        day: text(f, "day"),
        labels: unique([labelOf(facts, "batch", batch)]),
        batches: batch === null ? [] : [batch],
        machine: machineOf(facts, f),
        lots: unique([lotOf(batch)]),
        edges: derived.tally_edges[id] ?? [],
        faults: counts(f, "lost_by").map(([fault]) => fault),
        counts: cameOut(f),
        pieces: [],
        minutes: null,
        note: text(f, "note"),
      };
    });
  const work = [
    ...sessions.filter((line) => line.pieces.length > 0 || line.ended === null || line.note !== null),
    ...written,
  ];
  // newest first; what has no time stands last
  work.sort((a, b) => (b.began ?? -1) - (a.began ?? -1) || (a.id < b.id ? 1 : -1));

  const byBatch = groupBy(work, ({ batches }) => batches);
  const batches = shown(entries, "batch")
    .sort(by("planned_day"))
    .map((f): BatchLine => {
      const { id } = f;
      const own = byBatch.get(id) ?? [];
      const stands = derived.stands[id] ?? {};
      const stood = stands.profiled;
      return {
        id,
        label: text(f, "label"),
        planned: text(f, "planned_day"),
        pieces: count(f, "pieces"),
        lots: unique([labelOf(facts, "lot", text(f, "lot"))]),
        edges: unique(own.flatMap(({ edges }) => edges)),
        faults: unique(own.flatMap(({ faults }) => faults)),
        counts: { good: stood?.good ?? 0, second: stood?.second ?? 0, lost: stood?.lost ?? 0 },
        lost: Object.values(stands).reduce((sum, { lost }) => sum + lost, 0),
        came: STAGES.map((stage) => (stands[stage] ? stands[stage].good + stands[stage].second : null)),
        closed: flag(f, "closed") === true,
        note: text(f, "note"),
      };
    });
  return { work, batches: batches.reverse(), pieces: pieces.reverse() };
}

/** Outcomes that stand beside the one that counts. */
function othersSaid(row: Row, counts: Outcome | undefined): Outcome[] {
  const standing = prefixed(row, "outcome/").map(([, { value }]) => value);
  return OUTCOMES.filter((outcome) => outcome !== counts && standing.includes(outcome));
}

function counted(outcomes: readonly (Outcome | null)[]): Record<Outcome, number> {
  const counts = { good: 0, second: 0, lost: 0 };
  for (const one of OUTCOMES) counts[one] = outcomes.filter((outcome) => outcome === one).length;
  return counts;
}
