import fc from "fast-check";
import { expect, test } from "vitest";
import type { BladeMove, Cut, Edge, MoveWhat } from "src/blades/model";
import { cutBy, edgeKey, piecesOnEdges, timelineOf } from "src/blades/rules";

const WHATS: MoveWhat[] = ["fitted", "fitted", "fitted", "taken_out", "sent", "back", "ground", "retired"];
const minute = fc.integer({ min: 0, max: 40 }).map((n) => `2026-11-25T10:${String(n).padStart(2, "0")}:00.000Z`);
const machine = fc.constantFrom("m1", "m2");

const aMove: fc.Arbitrary<BladeMove> = fc.record({
  id: fc.uuid(),
  blade: fc.constantFrom("b1", "b2", "b3"),
  machine,
  what: fc.constantFrom(...WHATS),
  at: minute,
  inside_record: fc.option(fc.constantFrom("s1", "s2", "t1")),
  inside_piece: fc.integer({ min: 1, max: 12 }),
  took_out: fc.constant(null),
  confirmed: fc.constant(false),
  note: fc.constant(null),
});
const aPiece: fc.Arbitrary<Cut> = fc.record({
  record: fc.constantFrom("s1", "s2"), number: fc.integer({ min: 1, max: 12 }), machine, at: minute,
  pieces: fc.constant(1), opening: fc.constant(false), blade: fc.constant(null),
});
const aTally: fc.Arbitrary<Cut> = fc.record({
  record: fc.constantFrom("t1", "t2"), number: fc.constant(null), machine, at: minute,
  pieces: fc.integer({ min: 1, max: 12 }), opening: fc.constant(false), blade: fc.constant(null),
});

/** The slow way, straight from the rule: do every move that had happened when this piece was cut, oldest first. */
function slowly(moves: readonly BladeMove[], cut: Cut, number: number): Edge | null {
  const inOrder = [...moves].sort((a, b) => (`${a.at}${a.id}` < `${b.at}${b.id}` ? -1 : 1));
  const lives = new Map<BladeMove, number>();
  const life = new Map<string, number>();
  const keen = new Set<string>();
  for (const move of inOrder) {
    const has = life.get(move.blade) ?? 0;
    const isFresh = move.what === "ground" || (move.what === "back" && !keen.has(move.blade));
    if (isFresh && has > 0) life.set(move.blade, has + 1);
    if (isFresh) keen.add(move.blade);
    if (move.what === "fitted" && has === 0) life.set(move.blade, 1);
    if (move.what === "fitted" || move.what === "sent") keen.delete(move.blade);
    lives.set(move, life.get(move.blade) ?? 0);
  }
  // where each blade is, as of all moves: what a move does to a machine is known from there
  const where = new Map<string, string>();
  let held: { at: string; edge: Edge | null } = { at: "", edge: null };
  for (const move of inOrder) {
    const was = where.get(move.blade);
    const to = move.what === "ground" ? was : move.what === "fitted" ? (move.machine ?? undefined) : undefined;
    const before = move.inside_record === cut.record && move.inside_piece !== null ? move.inside_piece <= number : move.at <= cut.at;
    if (was === cut.machine && to !== was && before) held = { at: move.at, edge: null };
    if (to === cut.machine && before) held = { at: move.at, edge: { blade: move.blade, life: lives.get(move) ?? 0 } };
    if (was !== undefined && to !== was) where.delete(move.blade);
    if (to !== undefined) {
      for (const [blade, at] of where) if (at === to) where.delete(blade);
      where.set(move.blade, to);
    }
  }
  return held.edge;
}

test("the fast count says of every piece what the slow way says", () => {
  fc.assert(
    fc.property(fc.array(aMove, { maxLength: 14 }), fc.array(fc.oneof(aPiece, aTally), { maxLength: 12 }), (moves, cuts) => {
      const timeline = timelineOf(moves);
      for (const cut of cuts) {
        const parts = cutBy(timeline, cut).flatMap(({ edge, pieces }) => Array.from({ length: pieces }, () => edge));
        const numbers = cut.number === null ? Array.from({ length: cut.pieces }, (_, k) => k + 1) : [cut.number];
        expect(parts).toEqual(numbers.map((number) => slowly(moves, cut, number)));
      }
    }),
    { numRuns: 500 },
  );
});

test("every piece counts on one edge or on none: nothing is counted twice, nothing is lost", () => {
  fc.assert(
    fc.property(fc.array(aMove, { maxLength: 14 }), fc.array(fc.oneof(aPiece, aTally), { maxLength: 12 }), (moves, cuts) => {
      const timeline = timelineOf(moves);
      const counted = [...piecesOnEdges(timeline, cuts).values()].reduce((sum, pieces) => sum + pieces, 0);
      const parts = cuts.flatMap((cut) => cutBy(timeline, cut));
      const onNone = parts.filter(({ edge }) => edge === null).reduce((sum, { pieces }) => sum + pieces, 0);
      expect(counted + onNone).toBe(cuts.reduce((sum, cut) => sum + cut.pieces, 0));
    }),
  );
});

test("the order in which moves arrive changes nothing", () => {
  fc.assert(
    fc.property(fc.array(aMove, { maxLength: 14 }), fc.array(aPiece, { maxLength: 12 }), (moves, cuts) => {
      const there = piecesOnEdges(timelineOf(moves), cuts);
      const back = piecesOnEdges(timelineOf([...moves].reverse()), [...cuts].reverse());
      expect(Object.fromEntries(back)).toEqual(Object.fromEntries(there));
      for (const [blade, edges] of timelineOf(moves).began) for (const { edge } of edges) expect(there.has(edgeKey({ ...edge, blade }))).toBe(true);
    }),
  );
});
