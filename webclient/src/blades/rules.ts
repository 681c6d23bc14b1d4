// Which edge cut this piece, and how many pieces has each edge cut?

import { inOrder } from "./changing";
import type { BladeMove, Cut, Edge } from "./model";

export * from "./changing";

/** From this move on, `edge` (or none) is in the machine. */
interface Entry {
  at: string;
  move: BladeMove;
  edge: Edge | null;
}

/** Where each blade stands after its last move. */
export interface Standing {
  place: "new" | "in_use" | "ready" | "away" | "retired";
  machine: string | null;
  /** Which life it is in; 0: never fitted. */
  life: number;
  /** Has been in a machine since it was last ground. */
  used: boolean;
  since: string | null;
}

/** The moves, put in order once: ask it as often as you like. */
export interface Timeline {
  machines: ReadonlyMap<string, readonly Entry[]>;
  blades: ReadonlyMap<string, Standing>;
  /** When each edge began, oldest first. */
  began: ReadonlyMap<string, readonly { at: string; edge: Edge }[]>;
  /** Which records have moves inside them. */
  inside: ReadonlySet<string>;
}

const NEW: Standing = { place: "new", machine: null, life: 0, used: false, since: null };

/**
 * Put all moves in order of time. A blade fitted where another one is takes that one out; a blade is in one place only.
 * A new edge begins when a blade that has cut is ground, or comes back and no grinding was written down.
 */
export function timelineOf(moves: readonly BladeMove[]): Timeline {
  const machines = new Map<string, Entry[]>();
  const blades = new Map<string, Standing>();
  const holds = new Map<string, string>();
  const inside = new Set<string>();
  const began = new Map<string, { at: string; edge: Edge }[]>();
  const keen = new Set<string>(); // ground, and neither fitted nor sent away since

  const enter = (machine: string, move: BladeMove, edge: Edge | null): void => {
    const entries = machines.get(machine);
    if (entries === undefined) machines.set(machine, [{ at: move.at, move, edge }]);
    else entries.push({ at: move.at, move, edge });
  };

  for (const move of [...moves].sort(inOrder)) {
    if (move.inside_record !== null) inside.add(move.inside_record);
    const was = blades.get(move.blade) ?? NEW;
    let { life, used } = was;
    if (move.what === "ground" || (move.what === "back" && !keen.has(move.blade))) {
      if (life > 0) life += 1;
      used = false;
      keen.add(move.blade);
    } else if (move.what === "fitted" || move.what === "sent") keen.delete(move.blade);
    if (move.what === "fitted") {
      life = Math.max(life, 1);
      used = true;
    }
    if (life > was.life)
      began.set(move.blade, [
        ...(began.get(move.blade) ?? []),
        { at: move.at, edge: { blade: move.blade, life } },
      ]);

    const stays = move.what === "ground" ? was.machine : move.what === "fitted" ? move.machine : null;
    if (was.machine !== null && stays !== was.machine) {
      enter(was.machine, move, null);
      holds.delete(was.machine);
    }
    if (stays !== null) {
      const other = holds.get(stays);
      if (other !== undefined && other !== move.blade) {
        blades.set(other, { ...(blades.get(other) ?? NEW), place: "ready", machine: null, since: move.at });
      }
      holds.set(stays, move.blade);
      enter(stays, move, { blade: move.blade, life });
    }
    blades.set(move.blade, { place: placeAfter(move, stays), machine: stays, life, used, since: move.at });
  }
  return { machines, blades, began, inside };
}

function placeAfter(move: BladeMove, machine: string | null): Standing["place"] {
  if (machine !== null) return "in_use";
  return move.what === "sent" ? "away" : move.what === "retired" ? "retired" : "ready";
}

/** The last entry not later than `at`, or -1. */
function lastBy(entries: readonly Entry[], at: string): number {
  let low = 0;
  let high = entries.length;
  while (low < high) {
    const middle = (low + high) >>> 1;
    if ((entries[middle] as Entry).at <= at) low = middle + 1;
    else high = middle;
  }
  return low - 1;
}

/**
 * The edge that was in `machine` at `at`. For piece `number` of a record with moves inside it, those moves count by
 * piece and not by time. Null: no blade, or none recorded.
 */
export function edgeAt(
  timeline: Timeline,
  machine: string,
  at: string,
  record: string | null = null,
  number = 0,
): Edge | null {
  const entries = timeline.machines.get(machine);
  if (entries === undefined) return null;
  if (record === null || !timeline.inside.has(record)) return entries[lastBy(entries, at)]?.edge ?? null;
  for (let k = entries.length - 1; k >= 0; k -= 1) {
    const entry = entries[k] as Entry;
    const { inside_record, inside_piece } = entry.move;
    const before =
      inside_record === record && inside_piece !== null ? inside_piece <= number : entry.at <= at;
    if (before) return entry.edge;
  }
  return null;
}

/** The edge that a blade had at a time, wherever it was. */
function edgeOf(timeline: Timeline, blade: string | null, at: string): Edge | null {
  return (
    (blade === null ? undefined : timeline.began.get(blade))?.findLast((each) => each.at <= at)?.edge ?? null
  );
}

/** Which edges cut these pieces, in order: one part for a piece, several for a tally with a blade change inside it. */
export function cutBy(timeline: Timeline, cut: Cut): { edge: Edge | null; pieces: number }[] {
  if (cut.opening)
    return [
      {
        edge: edgeAt(timeline, cut.machine, cut.at) ?? edgeOf(timeline, cut.blade, cut.at),
        pieces: cut.pieces,
      },
    ];
  if (cut.number !== null || !timeline.inside.has(cut.record)) {
    return [{ edge: edgeAt(timeline, cut.machine, cut.at, cut.record, cut.number ?? 1), pieces: cut.pieces }];
  }
  const starts = new Set([1]);
  for (const entry of timeline.machines.get(cut.machine) ?? []) {
    const { inside_record, inside_piece } = entry.move;
    if (
      inside_record === cut.record &&
      inside_piece !== null &&
      inside_piece > 1 &&
      inside_piece <= cut.pieces
    )
      starts.add(inside_piece);
  }
  const firsts = [...starts].sort((a, b) => a - b);
  return firsts.map((first, k) => ({
    edge: edgeAt(timeline, cut.machine, cut.at, cut.record, first),
    pieces: (firsts[k + 1] ?? cut.pieces + 1) - first,
  }));
}

export const edgeKey = (edge: Edge): string => `${edge.blade}/${edge.life}`;

/** Pieces on each edge that there ever was, by `edgeKey`; what no edge is known for is left out. One look at each cut. */
export function piecesOnEdges(timeline: Timeline, cuts: Iterable<Cut>): Map<string, number> {
  const counts = new Map<string, number>();
  for (const edges of timeline.began.values()) for (const { edge } of edges) counts.set(edgeKey(edge), 0);
  const keys = new Map<Edge, string>();
  const add = (edge: Edge | null, pieces: number): void => {
    if (edge === null) return;
    let key = keys.get(edge);
    if (key === undefined) {
      key = edgeKey(edge);
      keys.set(edge, key);
    }
    counts.set(key, (counts.get(key) ?? 0) + pieces);
  };
  for (const cut of cuts) {
    if (cut.opening || timeline.inside.has(cut.record))
      for (const part of cutBy(timeline, cut)) add(part.edge, part.pieces);
    else add(edgeAt(timeline, cut.machine, cut.at), cut.pieces);
  }
  return counts;
}

/** The edge in the machine now, by the last move. */
export function edgeIn(timeline: Timeline, machine: string): Edge | null {
  return timeline.machines.get(machine)?.at(-1)?.edge ?? null;
}

/** When the blade now in the machine was fitted, and in place of which; null where none is. */
export function fittedMove(timeline: Timeline, machine: string): BladeMove | null {
  const last = timeline.machines.get(machine)?.at(-1);
  return last?.edge ? last.move : null;
}

/** From this part of its usual count on, an edge that was taken out is not fitted again. Common practice, no source. */
export const BLUNT_FROM = 0.5;

/**
 * What waits for the grinder: blades that have cut at least half of `usual_pieces` since they were ground, are here, and
 * are in no machine. Fewer: such a blade lies ready; one that was nicked is sent by hand.
 */
export function waitingToBeGround(
  timeline: Timeline,
  pieces: (blade: string) => number,
  usual_pieces: number,
): string[] {
  return [...timeline.blades]
    .filter(
      ([blade, { place, used }]) => place === "ready" && used && pieces(blade) >= usual_pieces * BLUNT_FROM,
    )
    .map(([blade]) => blade);
}
