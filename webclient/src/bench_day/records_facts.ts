/** Which edge cut each piece, how did it end, where does each batch stand? Joins what the tables and lists of Records need. */
import { computed } from "@preact/signals";
import type { Edge } from "../blades/model";
import { cutBy } from "../blades/rules";
import { dayOf } from "../language/format";
import { logbook } from "../logbook/state";
import { counted } from "../profiling/model";
import { pieces } from "../profiling/state";
import { type Lines, linesOf } from "../records/lists";
import type { Derived, Entries, Outcome } from "../records/model";
import { standsOf } from "../records/stands";
import { allSessions, cutsFrom, labelOf, timeline, zone } from "./care_facts";

const KINDS = [
  "machine",
  "blade",
  "lot",
  "batch",
  "session",
  "piece",
  "tally",
  "soak",
  "care_task",
  "care_done",
  "setting",
  "reading",
  "note",
];

export const entries = computed(
  (): Entries => Object.fromEntries(KINDS.map((kind) => [kind, logbook.rows(kind)])),
);

const said = (edge: Edge): string => `${labelOf(edge.blade) ?? "?"}/${edge.life}`;

export const derived = computed((): Derived => {
  const outcome: Record<string, Outcome> = {};
  for (const piece of pieces.value) {
    const standing = counted(piece);
    if (standing) outcome[piece.id] = standing.outcome;
  }
  const piece_edge: Record<string, string> = {};
  const tally_edges: Record<string, string[]> = {};
  for (const cut of cutsFrom(logbook.rows("piece"), logbook.rows("tally"), allSessions.value, zone.value)) {
    const edges = cutBy(timeline.value, cut).flatMap(({ edge }) => (edge ? [said(edge)] : []));
    if (outcome[cut.id] === undefined) tally_edges[cut.id] = [...new Set(edges)];
    else if (edges[0] !== undefined) piece_edge[cut.id] = edges[0];
  }
  return { outcome, piece_edge, tally_edges, stands: standsOf(entries.value, outcome) };
});

export const lines = computed((): Lines => linesOf(entries.value, derived.value));

export const dayOfInstant = (at: number): string => dayOf(at, { timeZone: zone.value });
