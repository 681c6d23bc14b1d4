/** What has each edge cut, and what does the slip say of so many more on the one that is in? The bench and the jars ask here. */
import { computed } from "@preact/signals";
import type { Edge } from "../blades/model";
import { cutBy, edgeIn, edgeKey } from "../blades/rules";
import { text } from "../logbook/read";
import { slip } from "../logbook/slips";
import { logbook } from "../logbook/state";
import { minutesAhead, type PaceSaid, readPace } from "../profiling/foreseen_rules";
import { asPiece, type Piece } from "../profiling/model";
import { minutesOf } from "../profiling/pace";
import { piecesIn, sessionAt } from "../profiling/state";
import { benchFacts } from "./bench_facts";
import { cuts, type NamedCut, timeline } from "./care_facts";

export const lotOfBatch = (batch: string | null): string | null =>
  text(logbook.row("batch", batch ?? ""), "lot");
export const lotLabel = (lot: string | null): string | null => text(logbook.row("lot", lot ?? ""), "label");

export interface OnEdge {
  piece: Piece;
  age: number;
}

/** The pieces of every edge, as they came off, each with what its edge had cut before it. */
export const onEdges = computed((): Map<string, OnEdge[]> => {
  const found = new Map<string, OnEdge[]>();
  const ages = new Map<string, number>();
  const byId = new Map(logbook.rows("piece").map((row) => [row.id, row]));
  const ordered = (cuts.value as NamedCut[]).toSorted((a, b) =>
    a.at < b.at ? -1 : a.at > b.at ? 1 : (a.number ?? 0) - (b.number ?? 0),
  );
  for (const cut of ordered) {
    for (const { edge, pieces } of cutBy(timeline.value, cut)) {
      const key = edge && edgeKey(edge);
      if (key === null) continue;
      const age = ages.get(key) ?? 0;
      const row = byId.get(cut.id);
      const on = found.get(key) ?? [];
      if (row) on.push({ piece: asPiece(row), age });
      found.set(key, on);
      ages.set(key, age + pieces);
    }
  }
  return found;
});

export const piecesOf = (edge: Edge | null): OnEdge[] => (edge && onEdges.value.get(edgeKey(edge))) || [];

export function paceOf(lot: string | null, machine: string | null): PaceSaid | null {
  const one = slip("minutes", lot ?? "");
  return readPace(one?.body, slip("minutes", "all")?.body, machine, one?.observations);
}

interface Bench {
  said: PaceSaid;
  age: number;
  today: [number, number][];
  on: OnEdge[];
}

export function benchNow(own: readonly Piece[]): Bench | null {
  const batch = benchFacts.value.batch?.id ?? null;
  return benchWith(lotOfBatch(batch), batch, own);
}

/** As if this batch were on, of this lot; `own`: the pieces of the session that is open. */
function benchWith(lot: string | null, batch: string | null, own: readonly Piece[]): Bench | null {
  const { machine } = benchFacts.value;
  const said = paceOf(lot, machine?.id ?? null);
  if (!said) return null;
  const on = piecesOf(machine && edgeIn(timeline.value, machine.id));
  const ages = new Map(on.map(({ piece, age }) => [piece.id, age]));
  const today = own.flatMap((piece): [number, number][] => {
    const minutes = minutesOf(piece);
    return minutes === null || piece.batch !== batch ? [] : [[minutes, ages.get(piece.id) ?? 0]];
  });
  return { said, today, on, age: (on.at(-1)?.age ?? -1) + 1 };
}

/** Minutes for so many in a row on the edge that is in now, of what is in the water; null: no slip tells of it. */
export function aheadOf(lot: string | null, batch: string | null, pieces: number) {
  const session = sessionAt(benchFacts.value.machine?.id ?? null);
  const bench = benchWith(lot ?? lotOfBatch(batch), batch, piecesIn(session));
  if (!bench) return null;
  const { said, age, today } = bench;
  return { ...minutesAhead(said.pace, age, pieces, today), today: today.length, isOthers: said.wanting > 0 };
}
