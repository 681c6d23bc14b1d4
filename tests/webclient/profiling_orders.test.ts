import { pieceId } from "src/logbook/piece_id";
import "fake-indexeddb/auto";
import { IDBFactory } from "fake-indexeddb";
import { beforeEach, describe, expect, test, vi } from "vitest";
import type { BenchFacts } from "src/profiling/state";

type Orders = typeof import("src/profiling/state");
type Book = typeof import("src/logbook/state");
let orders: Orders;
let book: Book;
let settling: typeof import("src/profiling/settling");
let two_phones: typeof import("src/profiling/two_phones");
let sessionOrders: typeof import("src/profiling/session_orders");

const facts: BenchFacts = {
  machine: { id: "m", name: "Machine 1", turnHabit: "passes", countsTurns: false },
  batch: { id: "b", label: "D1", pieces: 24, before: 0 },
  lot: "D",
  blade: "4",
};
let time = 0;
const wait = (seconds: number): void => {
  time += seconds * 1000;
  vi.setSystemTime(time);
};

beforeEach(async () => {
  vi.useFakeTimers({ toFake: ["Date"] });
  time = Date.UTC(2026, 10, 25, 13, 6);
  wait(0);
  vi.resetModules();
  globalThis.indexedDB = new IDBFactory();
  book = await import("src/logbook/state");
  orders = await import("src/profiling/state");
  settling = await import("src/profiling/settling");
  two_phones = await import("src/profiling/two_phones");
  sessionOrders = await import("src/profiling/session_orders");
  await book.logbook.open();
});

const session = () => orders.sessionAt("m");
const own = () => orders.piecesIn(session());
const outcomes = () => own().map((piece) => orders.outcomeOf(piece));
const good = (seconds = 180): void => {
  wait(seconds);
  orders.sayGood(facts, "hand");
};
const back = (): void => orders.takeBack(own());
const settled = () => vi.waitFor(() => expect(book.logbook.status.value.keeping).toBe("saved"), 20_000);

describe("the first Good", () => {
  test("begins the session and counts piece 1 of the batch", () => {
    orders.lookOnBench(null);
    good();
    expect(session()).toMatchObject({ machine: "m", batches: ["b"] });
    expect(own()).toMatchObject([{ number: 1, batch: "b", machine: "m", id: pieceId(session()?.id ?? "", 1) }]);
    expect(Date.parse(own()[0]?.at ?? "") - Date.parse(own()[0]?.began ?? "")).toBe(180_000);
  });
  test("goes into the session that the set-up began", () => {
    book.logbook.write([{ kind: "session", record: "set-up", set: { machine: "m", began: new Date(time).toISOString() } }]);
    good();
    expect(session()).toMatchObject({ id: "set-up", batches: ["b"] });
  });
  test("is not fully counted, for nobody tapped when it came on; the next is", () => {
    good();
    good();
    expect(own().map((piece) => piece.full)).toEqual([false, true]);
  });
  test("works with no machine, no batch: later is an answer", () => {
    wait(60);
    orders.comeOff("good", { machine: null, batch: null, lot: null, blade: null });
    expect(orders.piecesIn(orders.sessionAt(null))).toHaveLength(1);
  });
});

describe("two Goods within three seconds", () => {
  beforeEach(() => {
    good();
    good(1);
  });
  test("count one and ask", () => {
    expect(outcomes()).toEqual(["good"]);
    expect(orders.askedTwo.value).not.toBeNull();
  });
  test("going on means one", () => {
    good();
    expect(outcomes()).toEqual(["good", "good"]);
    expect(orders.askedTwo.value).toBeNull();
  });
  test("Two counts the second, and neither says how long it took", () => {
    orders.sayTwo(facts);
    expect(own().map((piece) => [piece.number, piece.full])).toEqual([[1, false], [2, false]]);
    expect(orders.askedTwo.value).toBeNull();
  });
  test("Lost in between counts the next piece as lost and ends the question", () => {
    orders.sayLost(facts, 2);
    expect(outcomes()).toEqual(["good", "lost"]);
    expect(orders.askedTwo.value).toBeNull();
  });
  test("with a loss between them, the question after the loss makes room for this one", () => {
    orders.sayLost(facts, 2);
    good(1);
    expect(outcomes()).toEqual(["good", "lost"]);
    expect([orders.askingSeen.value, orders.askedTwo.value]).toEqual([null, expect.anything()]);
  });
});

test("a pedal counts two quick ones as two", () => {
  wait(60);
  orders.sayGood(facts, "pedal");
  wait(1);
  orders.sayGood(facts, "pedal");
  expect(outcomes()).toEqual(["good", "good"]);
});

describe("lost", () => {
  test("puts the next piece on at once, and what was seen can be passed over by Good", () => {
    good();
    wait(60);
    orders.sayLost(facts, 2);
    expect(orders.askingSeen.value).toMatchObject({ place: 2 });
    good();
    expect(orders.askingSeen.value).toBeNull();
    expect(own().map((piece) => piece.seen)).toEqual([[], [], []]);
  });
  test("keeps what was seen on the lost piece", () => {
    good();
    wait(60);
    orders.sayLost(facts, 2);
    orders.saySeen(["torn"]);
    expect(own()[1]).toMatchObject({ seen: ["torn"] });
  });
});

describe("take back, step by step", () => {
  test("what was seen, then the loss, then the piece before; each comes back on", () => {
    good();
    wait(60);
    orders.sayLost(facts, 2);
    wait(2);
    orders.saySeen(["split"]);
    back();
    expect(own()[1]).toMatchObject({ seen: [] });
    expect(outcomes()).toEqual(["good", "lost"]);
    back();
    expect(outcomes()).toEqual(["good", null]);
    back();
    expect(outcomes()).toEqual([null, null]);
    back();
    expect(outcomes()).toEqual([null, null]);
    good();
    expect(own().map((piece) => [piece.number, orders.outcomeOf(piece)])).toEqual([[1, "good"], [2, null]]);
    expect(own()[0]?.full).toBe(false);
  });
  test("a correction: the earlier outcome stands again", async () => {
    good();
    const piece = own()[0];
    if (!piece) throw new Error("no piece");
    wait(30);
    orders.putRight(piece, "lost");
    expect(outcomes()).toEqual(["lost"]);
    expect(own()[0]?.standing).toHaveLength(1);
    back();
    await settled();
    expect(outcomes()).toEqual(["good"]);
    back();
    expect(outcomes()).toEqual([null]);
  });
  test("a correction, after the page was opened anew", async () => {
    good();
    const piece = own()[0];
    if (!piece) throw new Error("no piece");
    wait(30);
    orders.putRight(piece, "second");
    await settled();
    vi.resetModules();
    book = await import("src/logbook/state");
    orders = await import("src/profiling/state");
    await book.logbook.open();
    expect(outcomes()).toEqual(["second"]);
    back();
    await vi.waitFor(() => expect(outcomes()).toEqual(["good"]), 20_000); // what stood before is read from the store
  });
  test("one turn of the piece on", () => {
    wait(20);
    orders.sayTurned(facts);
    wait(20);
    orders.sayTurned(facts);
    back();
    expect(Object.values(own()[0]?.turns ?? {})[0]).toHaveLength(1);
    expect(outcomes()).toEqual([null]);
  });
});

test("a put right piece is not fully counted", () => {
  good();
  good();
  expect(own()[1]?.full).toBe(true);
  const piece = own()[1];
  if (piece) orders.putRight(piece, "second");
  expect(own()[1]?.full).toBe(false);
  expect(outcomes()).toEqual(["good", "second"]);
});

test("a missed tap adds a piece without minutes, and the one on has none either", () => {
  good();
  wait(400);
  orders.addMissed(facts, "good");
  good();
  good();
  expect(own().map((piece) => [piece.number, piece.full, piece.added])).toEqual([[1, false, false], [2, false, true], [3, false, false], [4, true, false]]);
});

test("a missed tap after one that was taken back is the piece that lay open, and the next one is on", () => {
  good();
  good();
  back();
  orders.addMissed(facts, "good");
  expect(own().map((piece) => [piece.number, orders.outcomeOf(piece), piece.added])).toEqual([[1, "good", false], [2, "good", true]]);
  good();
  expect(own()).toHaveLength(3);
});

test("a pause takes the minutes of the piece that was on out of the count, and of no other", () => {
  good();
  good();
  wait(60);
  const paused = session();
  sessionOrders.pause(paused);
  expect(session()?.pausedAt).not.toBeNull();
  wait(900);
  if (paused) sessionOrders.goOn(paused);
  good();
  good();
  expect(own().map((piece) => piece.full)).toEqual([false, true, false, true]);
});

test("turns stand on the piece that is on, and Good takes them along", () => {
  wait(20);
  orders.sayTurned(facts);
  wait(20);
  orders.sayTurned(facts);
  good();
  expect(own()).toHaveLength(1);
  expect(Object.values(own()[0]?.turns ?? {})[0]).toHaveLength(2);
  expect(outcomes()).toEqual(["good"]);
});

describe("two phones said two things of one piece", () => {
  beforeEach(() => {
    good();
    const piece = own()[0];
    wait(60);
    book.logbook.write([{ kind: "piece", record: piece?.id ?? "", set: { "outcome/other": "lost" } }]);
  });
  test("it counts once, as the later said", () => expect(outcomes()).toEqual(["lost"]));
  test("one is chosen and the other is gone", () => {
    const piece = own()[0];
    const first = piece?.standing[1];
    if (piece && first) two_phones.keepOutcome(piece, first.change);
    expect(outcomes()).toEqual(["good"]);
    expect(own()[0]?.standing).toHaveLength(1);
  });
  test("these were two: the other becomes a piece of its own", () => {
    const piece = own()[0];
    if (piece) two_phones.theseWereTwo(piece, orders.pieces.value);
    expect(own().map((one) => [one.number, orders.outcomeOf(one), one.partedFrom])).toEqual([[1, "good", null], [2, "lost", piece?.id]]);
  });
});

test("the next day is a session of its own, and the one left open ends with its last act", () => {
  good();
  const first = session()?.id;
  const act = new Date(time).toISOString();
  wait(20 * 3600);
  expect(session()).toBeNull();
  good();
  expect(session()?.id).not.toBe(first);
  expect(orders.sessions.value.find((one) => one.id === first)?.ended).toBe(act);
});

test("closing keeps the ticks, what is left and the note, and can be undone", () => {
  good();
  const open = session();
  if (!open) throw new Error("no session");
  book.logbook.write([sessionOrders.closing(open, { ticks: { wiped: true, jars: false }, leftInWater: 3, note: "soft lot" })]);
  expect(session()).toBeNull();
  const closed = orders.sessions.value[0];
  expect(closed).toMatchObject({ winds: { wiped: true, jars: false }, leftInWater: 3, note: "soft lot" });
  if (closed) sessionOrders.openAgain(closed);
  expect(session()?.id).toBe(open.id);
});

test("a note that is emptied at the second close is gone", () => {
  good();
  for (const note of ["soft lot", null]) {
    const open = session();
    if (!open) throw new Error("no session");
    book.logbook.write([sessionOrders.closing(open, { ticks: {}, leftInWater: null, note })]);
    const closed = orders.sessions.value[0];
    expect(closed?.note).toBe(note);
    if (closed) sessionOrders.openAgain(closed);
  }
});

test("a machine named after the session had begun takes its pieces along", () => {
  wait(60);
  orders.comeOff("good", { ...facts, machine: null });
  const open = orders.sessionAt(null);
  if (open) settling.adopt(open, "m");
  expect(own().map((piece) => piece.machine)).toEqual(["m"]);
});

test("a session that was on the wrong machine goes to the right one with all its pieces, and with what was joined to it", () => {
  good();
  const [piece] = own();
  book.logbook.write([{ kind: "session", record: "other", set: { machine: "m", began: new Date(time).toISOString(), joined_to: piece?.session ?? "" } }]);
  const open = session();
  if (open) settling.adopt(open, "door");
  expect(orders.sessionAt("door")?.id).toBe(piece?.session);
  expect([session(), orders.sessions.value.map((one) => one.machine), orders.pieces.value.map((one) => one.machine)]).toEqual([null, ["door", "door"], ["door"]]);
});

test("pieces counted for the wrong batch go to the right one, and the next ones too", () => {
  good();
  const open = session();
  if (open) settling.adoptBatch(open, "b2", own());
  expect([own().map((piece) => piece.batch), session()?.batches]).toEqual([["b2"], ["b", "b2"]]);
});
