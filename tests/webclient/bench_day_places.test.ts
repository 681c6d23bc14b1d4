// A batch that goes on another day, or comes second in a session: every screen says the bench's own numbers.
import "fake-indexeddb/auto";
import type { Signal } from "@preact/signals";
import { IDBFactory } from "fake-indexeddb";
import { beforeEach, describe, expect, test, vi } from "vitest";
import { nextThing } from "src/bench_day/today_rules";
import type { Piece } from "src/profiling/model";

let book: typeof import("src/logbook/state");
let orders: typeof import("src/profiling/state");
let sessionOrders: typeof import("src/profiling/session_orders");
let facts: typeof import("src/bench_day/bench_facts");
let today: typeof import("src/bench_day/today_facts");
let chest: typeof import("src/bench_day/chest_lines");
let clock: typeof import("src/clock");
let change: typeof import("src/bench_day/blade_change_facts");

const DAY_S = 86_400;
let time = 0;
const wait = (seconds: number): void => {
  time += seconds * 1000;
  vi.setSystemTime(time);
};
const put = (kind: string, record: string, set: Record<string, string | number | string[] | null>): void =>
  void book.logbook.write([{ kind, record, set }]);
const cut = (times: number): void => {
  for (let i = 0; i < times; i += 1) {
    wait(180);
    orders.comeOff("good", facts.benchFacts.value);
  }
};
/** The evening after, and the next day. */
const nextDay = (): void => {
  const open = orders.sessionAt("m");
  if (open) book.logbook.write([sessionOrders.closing(open, { ticks: {}, leftInWater: 0, note: null })]);
  facts.pickedBatch.value = null;
  wait(DAY_S);
  (clock.minute as Signal<number>).value = time;
};
const line = (room: string): string | undefined => chest.drawers.value.find((one) => one.room === room)?.line;
const newest = (): Piece => facts.bench().own.at(-1) as Piece;

beforeEach(async () => {
  vi.useFakeTimers({ toFake: ["Date"] });
  time = Date.UTC(2026, 10, 23, 13, 6);
  wait(0);
  vi.resetModules();
  globalThis.indexedDB = new IDBFactory();
  book = await import("src/logbook/state");
  orders = await import("src/profiling/state");
  sessionOrders = await import("src/profiling/session_orders");
  facts = await import("src/bench_day/bench_facts");
  today = await import("src/bench_day/today_facts");
  chest = await import("src/bench_day/chest_lines");
  clock = await import("src/clock");
  change = await import("src/bench_day/blade_change_facts");
  await book.logbook.open();
  put("machine", "m", { name: "One", does: "profile" });
  put("batch", "k", { label: "K1", pieces: 13 });
});

describe("thirteen, of which six were cut yesterday and four today", () => {
  beforeEach(() => {
    cut(6);
    nextDay();
    cut(4);
  });

  test("are ten done, the eleventh on and three to go: at the bench, on Today, in the Chest", () => {
    expect(facts.bench()).toMatchObject({ place: 11, done: 10, left: 3 });
    expect(today.underWay.value).toMatchObject({ batch: "K1", place: 11, done: 10, left: 3, cut: 4 });
    expect(line("bench")).toBe("at piece 11");
  });

  test("each piece has the place at which it was cut, the six of the day before too", () => {
    const places = orders.pieces.value.map((piece) => facts.placeOf(piece)).sort((a, b) => a - b);
    expect(places).toEqual([1, 2, 3, 4, 5, 6, 7, 8, 9, 10]);
    expect(facts.placeOf(newest())).toBe(10);
  });

  test("may have had their blade changed at the pieces seven to ten, and before at one to six", () => {
    const [now, before] = change.stretchesOn("m");
    expect(now).toMatchObject({ pieces: 4, before: 6, numbers: [1, 2, 3, 4] });
    expect(before).toMatchObject({ pieces: 6, before: 0 });
    expect(now?.name).toMatch(/^K1, /);
  });

  test("all cut: Today offers the wind down as the bench does, and the Chest says that they are done", () => {
    cut(3);
    const session = today.underWay.value;
    expect(session).toMatchObject({ done: 13, left: 0 });
    expect(nextThing({ isInWater: false, isOut: false, session })).toBe("wind-down");
    expect(line("bench")).toBe("13 done");
  });

  test("and two more written up later: what is on is the thirteenth", () => {
    put("tally", "t", { batch: "k", stage: "profiled", started: 2, good: 2, at: new Date(time).toISOString() });
    expect(today.underWay.value).toMatchObject({ place: 13, done: 12, left: 1 });
    expect(facts.placeOf(newest())).toBe(12);
  });
});

test("a second batch in one session has its own numbers, and so has the blade that was changed within it", () => {
  cut(6);
  put("batch", "w", { label: "W", pieces: 3 });
  facts.pickedBatch.value = "w";
  cut(2);
  expect(today.underWay.value).toMatchObject({ batch: "W", place: 3, done: 2, left: 1 });
  expect(line("bench")).toBe("at piece 3");
  expect(facts.placeOf(newest())).toBe(2);
  expect(change.stretchesOn("m").map(({ pieces, before, numbers }) => [pieces, before, numbers?.[0]])).toEqual([
    [2, 0, 7],
    [6, 0, 1],
  ]);
});

test("with no batch a piece has its place in its session", () => {
  facts.pickedBatch.value = "later";
  cut(2);
  nextDay();
  facts.pickedBatch.value = "later";
  cut(1);
  expect(facts.placeOf(newest())).toBe(1);
  expect(facts.bench().place).toBe(2);
});

test("a session that is only being set up is set up, though its batch was begun on another day", () => {
  cut(6);
  nextDay();
  put("session", "s", { machine: "m", began: new Date(time).toISOString(), batches: ["k"] });
  const session = today.underWay.value;
  expect(session).toMatchObject({ cut: 0, done: 6 });
  expect(nextThing({ isInWater: false, isOut: false, session })).toBe("set-up");
});

test("a piece taken back counts nowhere: the Chest has no records of that day", () => {
  cut(1);
  const [day] = /on .*/.exec(line("records") ?? "") ?? [];
  expect(line("records")).toBe(`1 ${day}`);
  orders.takeBack(facts.bench().own);
  expect(line("records")).toBe("nothing yet");
});

describe("the Chest says of the set-up", () => {
  test("that there was none yet, where pieces were cut and no line of it was ever looked at", () => {
    cut(1);
    expect(line("set-up")).toBe("not yet");
  });
  test("when a line of it was looked at last", () => {
    put("session", "s", { machine: "m", began: new Date(time).toISOString(), batches: ["k"], "check/edge": "good" });
    cut(1);
    expect(line("set-up")).toBe("as earlier today");
    nextDay();
    cut(1);
    expect(line("set-up")).toMatch(/^as on Mon/);
  });
});

test("a batch that never said how many it has is told without a number: in the Chest, before a change of blade", () => {
  const day = new Date(time).toISOString().slice(0, 10);
  put("batch", "k", { pieces: null, planned_day: day });
  expect(line("bench")).toBe("K1 planned");
  const warned = () => change.changeFacts({ id: "m", name: "One" }, null).warnings;
  expect(warned()).toMatchObject([{ what: "planned", label: "K1", pieces: null }]);
  put("batch", "k", { pieces: 13 });
  expect(line("bench")).toBe("13 of K1 planned");
  expect(warned()).toMatchObject([{ what: "planned", pieces: 13 }]);
});
