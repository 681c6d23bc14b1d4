import { describe, expect, test } from "vitest";
import type { Outcome, Piece, Session } from "../../webclient/src/profiling/model";
import * as rules from "../../webclient/src/profiling/rules";

const at = (minutes: number): string => new Date(Date.UTC(2026, 10, 25, 14, 6) + minutes * 60_000).toISOString();

const piece = (number: number, outcome: Outcome | null, more: Partial<Piece> = {}): Piece => ({
  id: `p${number}`,
  session: "s",
  number,
  batch: "D1",
  machine: "m",
  began: at((number - 1) * 3),
  at: outcome ? at(number * 3) : null,
  standing: outcome ? [{ change: `c${number}`, outcome, when: at(number * 3) }] : [],
  seen: [],
  seenWhen: null,
  turns: {},
  turnsWhen: {},
  full: true,
  added: false,
  partedFrom: null,
  nulledBy: {},
  ...more,
});

const session = (more: Partial<Session> = {}): Session => ({
  id: "s",
  machine: "m",
  began: at(0),
  ended: null,
  batches: ["D1"],
  pausedAt: null,
  pauseSaid: null,
  countsTurns: null,
  joinedTo: null,
  apart: [],
  leftInWater: null,
  winds: {},
  atPiece: null,
  checked: null,
  note: null,
  ...more,
});

const good = (...numbers: number[]): Piece[] => numbers.map((number) => piece(number, "good"));

describe("the piece on the easel", () => {
  test("is the first when nothing is done", () => expect(rules.pieceOn(session(), [])).toBe(1));
  test("is the one after the last that came off", () => expect(rules.pieceOn(session(), good(1, 2, 3))).toBe(4));
  test("is the one whose outcome was taken back", () =>
    expect(rules.pieceOn(session(), [...good(1, 2), piece(3, null)])).toBe(3));
  test("follows what the maker says on a phone that took over, and never falls behind what is done", () => {
    expect(rules.pieceOn(session({ atPiece: 12 }), [])).toBe(12);
    expect(rules.pieceOn(session({ atPiece: 12 }), good(11, 12, 13))).toBe(14);
  });
  test("leaves out the numbers that another phone has not sent yet", () =>
    expect(rules.pieceOn(session(), good(1, 2, 9))).toBe(10));
});

test("what is done counts each piece once, with the outcome said last", () => {
  const both = piece(3, "good");
  both.standing = [
    { change: "b", outcome: "lost", when: at(10) },
    { change: "a", outcome: "good", when: at(9) },
  ];
  expect(rules.doneOf([...good(1, 2), both, piece(4, "second"), piece(5, null)])).toEqual({ good: 2, second: 1, lost: 1, all: 4 });
  expect(rules.disagreeing([...good(1), both]).map((one) => one.id)).toEqual(["p3"]);
});

describe("two Goods", () => {
  test("within three seconds are asked about", () => {
    expect(rules.asksTwo(1000, 3999, "hand")).toBe(true);
    expect(rules.asksTwo(1000, 4000, "hand")).toBe(false);
  });
  test("of a pedal are never asked about", () => expect(rules.asksTwo(1000, 1700, "pedal")).toBe(false));
  test("are not asked about when the clock was put back between them", () =>
    expect(rules.asksTwo(5000, 1000, "hand")).toBe(false));
});

describe("take back", () => {
  test("takes the last outcome, and before it the one before", () => {
    const pieces = good(1, 2);
    const first = rules.lastAct(pieces);
    expect(first).toMatchObject({ kind: "outcome", change: "c2" });
    expect(rules.lastAct([...good(1), piece(2, null)])).toMatchObject({ kind: "outcome", change: "c1" });
    expect(rules.lastAct([piece(1, null), piece(2, null)])).toBeNull();
  });
  test("takes what was seen before it takes the loss", () => {
    const lost = piece(2, "lost", { seen: ["split"], seenWhen: at(6.2) });
    expect(rules.lastAct([...good(1), lost])).toMatchObject({ kind: "seen" });
    expect(rules.lastAct([...good(1), { ...lost, seen: [] }])).toMatchObject({ kind: "outcome", outcome: "lost" });
  });
  test("takes one turn of the piece on, and leaves the turns of pieces that are done", () => {
    const done = piece(1, "good", { turns: { a: [at(1), at(2)] }, turnsWhen: { a: at(2) } });
    const on = piece(2, null, { turns: { a: [at(4), at(5)] }, turnsWhen: { a: at(5) } });
    expect(rules.lastAct([done, on])).toMatchObject({ kind: "turn", device: "a", left: [at(4)] });
    expect(rules.lastAct([done])).toMatchObject({ kind: "outcome", change: "c1" });
  });
  test("knows which outcome a correction replaced, so that it comes back", () => {
    const corrected = piece(1, "lost", { nulledBy: { old: "c1" } });
    expect(rules.lastAct([corrected])).toMatchObject({ kind: "outcome", change: "c1", replaced: ["old"] });
  });
});

describe("the pace", () => {
  test("is the median of the fully counted, in minutes", () => {
    const slow = piece(5, "good", { at: at(40) });
    expect(rules.minutesAPiece([...good(1, 2, 3, 4), slow])).toBe(3);
  });
  test("leaves out pieces that were not fully counted", () => {
    expect(rules.minutesAPiece([...good(1, 2), piece(3, "good", { full: false })])).toBeNull();
  });
  test("is not said from two pieces", () => expect(rules.minutesAPiece(good(1, 2))).toBeNull());
  test("says when the batch is done, and moves on when a piece takes longer", () => {
    const since = Date.parse(at(18));
    expect(rules.doneBy(18, 3, since, Date.parse(at(19)))).toBe(Date.parse(at(18 + 54)));
    expect(rules.doneBy(18, 3, since, Date.parse(at(28)))).toBe(Date.parse(at(28 + 51)));
    expect(rules.doneBy(0, 3, since, since)).toBeNull();
  });
});

test("a pause while a piece is on takes its minutes out of the count, a pause before it does not", () => {
  expect(rules.wasPaused(session({ pauseSaid: at(7) }), at(6))).toBe(true);
  expect(rules.wasPaused(session({ pauseSaid: at(5) }), at(6))).toBe(false);
  expect(rules.wasPaused(session(), at(6))).toBe(false);
});

describe("sessions", () => {
  test("over midnight and a change to summer time are one session", () => {
    const began = "2026-03-28T22:30:00.000Z"; // 23:30 in Berlin; the clocks there go on an hour at 01:00Z
    const one = session({ began });
    const pieces = [piece(1, "good", { at: "2026-03-29T00:50:00.000Z" }), piece(2, "good", { at: "2026-03-29T01:10:00.000Z", began: "2026-03-29T00:50:00.000Z" })];
    expect(rules.openSessions("m", [one], pieces, Date.parse("2026-03-29T01:12:00.000Z"))).toEqual([one]);
    expect(rules.minutesOf(pieces[1] as Piece)).toBe(20);
  });
  test("that slept eight hours are over, and ended with their last act", () => {
    const now = Date.parse(at(6)) + rules.SESSION_SLEEPS_MS;
    expect(rules.openSessions("m", [session()], good(1, 2), now)).toEqual([]);
    expect(rules.asleep([session()], good(1, 2), now)).toEqual([{ id: "s", ended: Date.parse(at(6)) }]);
    expect(rules.asleep([session()], good(1, 2), now - 1)).toEqual([]);
  });
  test("stay over when a piece of theirs is put right the next day", () => {
    const right = piece(2, "second", { at: at(6), standing: [{ change: "d", outcome: "second", when: at(1200) }], nulledBy: { c2: "d" } });
    const now = Date.parse(at(1201));
    expect(rules.openSessions("m", [session()], [...good(1), right], now)).toEqual([]);
    expect(rules.asleep([session()], [...good(1), right], now)).toEqual([{ id: "s", ended: Date.parse(at(6)) }]);
  });
  test("of another machine, ended or joined are not the one at this bench", () => {
    const now = Date.parse(at(1));
    const others = [session({ machine: "n" }), session({ ended: at(1) }), session({ id: "u", joinedTo: "t" }), session({ id: "t", ended: at(1) })];
    expect(rules.openSessions("m", others, [], now)).toEqual([]);
  });
  test("joined into one are counted as one, with the pieces of both", () => {
    const a = session({ id: "a" });
    const b = session({ id: "b", joinedTo: "a" });
    const pieces = [piece(1, "good", { session: "a" }), piece(1, "lost", { session: "b", id: "q", at: at(4) }), piece(1, "good", { session: "x", id: "y" })];
    expect(rules.piecesOf(a, [a, b], pieces).map((one) => one.session)).toEqual(["a", "b"]);
    expect(rules.openSessions("m", [a, b], pieces, Date.parse(at(5)))).toEqual([a]);
  });
  test("that were joined to each other in a circle are still found", () => {
    const a = session({ id: "a", joinedTo: "b" });
    const b = session({ id: "b", joinedTo: "a" });
    expect([a, b].map((one) => rules.rootOf(one, [a, b]).id)).toEqual(["a", "a"]);
    expect(rules.openSessions("m", [a, b], [], Date.parse(at(5)))).toEqual([a]);
  });
  test("begun on two phones are asked about until somebody says what they are", () => {
    const a = session({ id: "a" });
    const b = session({ id: "b" });
    expect(rules.alsoOpen(a, [a, b])?.id).toBe("b");
    expect(rules.alsoOpen(a, [a, session({ id: "b", apart: ["a"] })])).toBeNull();
    expect(rules.alsoOpen(a, [a])).toBeNull();
  });
});

test("a piece's place in its batch goes on from what was cut on other days", () => {
  expect(rules.placeInBatch(11, good(1, 2), piece(3, null))).toBe(14);
  expect(rules.placeInBatch(0, good(1, 2, 4), piece(3, null))).toBe(3);
});

test("of sessions joined into one, each piece has a place of its own in the batch", () => {
  const own = [...good(1, 2), ...[1, 2, 3].map((n) => piece(n, "good", { session: "t", at: at(4 * n + 1) }))];
  expect(rules.placeInBatch(0, own, piece(3, null, { at: null }))).toBe(6);
  expect(own.map((one) => rules.placeInBatch(0, own, one)).sort()).toEqual([1, 2, 3, 4, 5]);
});

test("a second of two outcomes gets the next free number", () => expect(rules.nextFree("s", good(1, 2, 7))).toBe(8));

describe("what can be put right", () => {
  const numbers = (pieces: Piece[]): number[] => pieces.map((one) => one.number);
  const yesterday = good(1, 2, 3).map((one) => ({ ...one, id: `y${one.number}`, session: "y", at: at(one.number - 900) }));
  test("are the last ten, and nothing that is not done", () => {
    const own = [...good(1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11), piece(12, null)];
    expect(numbers(rules.lastTen(own, own, "D1", "m"))).toEqual([2, 3, 4, 5, 6, 7, 8, 9, 10, 11]);
  });
  test("are those of yesterday too, which came off before today's", () => {
    const own = good(1, 2);
    expect(rules.lastTen(own, [...own, ...yesterday], "D1", "m").map((one) => one.id)).toEqual(["y1", "y2", "y3", "p1", "p2"]);
    expect(numbers(rules.lastTen([], yesterday, "D1", "m"))).toEqual([1, 2, 3]);
  });
  test("are this session's of the batch before, and not another day's", () => {
    const own = [piece(1, "good", { batch: "C1" }), piece(2, "good")];
    const other = yesterday.map((one) => ({ ...one, batch: "C1" }));
    expect(numbers(rules.lastTen(own, [...own, ...other], "D1", "m"))).toEqual([1, 2]);
  });
  test("are the machine's, where the batch on the bench has none: yesterday's is through", () => {
    const other = piece(9, "good", { machine: "n" });
    expect(numbers(rules.lastTen([], [...yesterday, other], "C2", "m"))).toEqual([1, 2, 3]);
  });
});

test("lost pieces are told by what was seen, the others as not said", () =>
  expect(rules.lostTo([piece(1, "lost", { seen: ["torn"] }), piece(2, "lost"), piece(3, "second", { seen: ["split"] })])).toEqual({ torn: 1, not_said: 1 }));

describe("turns", () => {
  test("of two phones that saw the same one count once, those of a phone that took over are added", () => {
    expect(rules.turnsOf(piece(1, null, { turns: { a: [at(1), at(2)], b: [at(1.02)] } }))).toBe(2);
    expect(rules.turnsOf(piece(1, null, { turns: { a: [at(1), at(2)], b: [at(3), at(4)] } }))).toBe(4);
  });
  test("of one phone are never merged: two quick ones are two", () =>
    expect(rules.turnsOf(piece(1, null, { turns: { a: [at(1), at(1.01)] } }))).toBe(2));
  test("every one swings the piece: the other half is under the blade", () => {
    expect(rules.cutting(0, "passes").half).toBe("first");
    expect(rules.cutting(3, "passes").half).toBe("second");
  });
  test("by passes pare both halves together, the one cut first ahead", () => {
    const mid = rules.cutting(4, "passes", 9);
    expect(mid.first).toBeGreaterThanOrEqual(mid.second);
    expect(mid.first - mid.second).toBeLessThan(0.25);
    expect(rules.cutting(0, "passes", 9).onBark).toBe(true);
    expect(rules.cutting(9, "passes", 9)).toMatchObject({ first: 1, onBark: false });
  });
  test("by halves finish the first half before the second is begun", () => {
    expect(rules.cutting(0, "halves")).toMatchObject({ half: "first", second: 0 });
    expect(rules.cutting(1, "halves")).toMatchObject({ half: "second", first: 1 });
  });
  test("usual ones are the middle half of five counted pieces or more", () => {
    const turned = (number: number, turns: number): Piece =>
      piece(number, "good", { turns: { a: Array.from({ length: turns }, (_, i) => at(number * 3 + i / 10)) } });
    expect(rules.usualTurns([turned(1, 8), turned(2, 9), turned(3, 10), turned(4, 8)])).toBeNull();
    expect(rules.usualTurns([turned(1, 8), turned(2, 9), turned(3, 10), turned(4, 8), turned(5, 20)])).toEqual({ from: 8, to: 15 });
  });
});
