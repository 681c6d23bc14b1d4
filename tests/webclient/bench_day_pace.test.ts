// The row in the water goes by the same slip as the bench: this lot, the edge that is in, and today's own pieces.
import "fake-indexeddb/auto";
import { IDBFactory } from "fake-indexeddb";
import { beforeEach, expect, test, vi } from "vitest";
import { minutesOf } from "src/profiling/pace";

let book: typeof import("src/logbook/state");
let orders: typeof import("src/profiling/state");
let slips: typeof import("src/logbook/slips");
let pace: typeof import("src/bench_day/foreseen_on_edge");
let soak: typeof import("src/bench_day/foreseen_soak");
let facts: typeof import("src/bench_day/bench_facts");
let words: typeof import("src/soak/foreseen_words");

const BEGAN = Date.UTC(2026, 10, 25, 13, 6);
let time = 0;
const wait = (seconds: number): void => {
  time += seconds * 1000;
  vi.setSystemTime(time);
};
const put = (kind: string, record: string, set: Record<string, string | number | null>): void =>
  void book.logbook.write([{ kind, record, set }]);

beforeEach(async () => {
  vi.useFakeTimers({ toFake: ["Date"] });
  time = BEGAN;
  wait(0);
  vi.resetModules();
  globalThis.indexedDB = new IDBFactory();
  book = await import("src/logbook/state");
  orders = await import("src/profiling/state");
  slips = await import("src/logbook/slips");
  pace = await import("src/bench_day/foreseen_on_edge");
  soak = await import("src/bench_day/foreseen_soak");
  facts = await import("src/bench_day/bench_facts");
  words = await import("src/soak/foreseen_words");
  await book.logbook.open();
  put("machine", "m", { name: "One", does: "profile" });
  put("blade", "k", { label: "3" });
  put("blade_move", "v", { blade: "k", machine: "m", what: "fitted", at: new Date(BEGAN - 86_400_000).toISOString() });
  put("lot", "c", { label: "C" });
  put("batch", "b", { label: "C1", lot: "c", pieces: 24 });
});

const all = { sigma: 0.07, tau: 0.05, by_age: 0.04, degrees: 20, centre: Math.log(3), error: 0.12, last: "a" };
const show = (own: Record<string, number> | null): void =>
  slips.showSlips([
    { kind: "minutes", subject: "all", as_of_seq: 1, observations: 200, body: all },
    ...(own ? [{ kind: "minutes", subject: "c", as_of_seq: 1, observations: 60, body: own }] : []),
  ]);
const asked = { lot: "c", batch: "b" };
const minutes = (): number => (soak.paceAtBench(asked)?.usual_s ?? 0) / 60;
const cut = (seconds: number, times: number): void => {
  for (let i = 0; i < times; i += 1) {
    wait(seconds);
    orders.sayGood(facts.benchFacts.value, "hand");
  }
};

test("for a lot that is not known yet the row goes by the other lots, and says so", () => {
  show(null);
  const found = soak.paceAtBench(asked);
  expect(minutes()).toBeCloseTo(3, 1);
  expect(found?.by).toBe("others");
  expect(found && words.together(found, 6, null)).toMatch(
    /^At 2\.\d to 3\.\d min a piece, as your other lots took: all six can go in together\.$/,
  );
});

test("a lot with marks of its own is foreseen by them, as at the bench", () => {
  show({ centre: Math.log(4), error: 0.02 });
  expect(minutes()).toBeCloseTo(4, 1);
  expect(minutes()).toBeCloseTo((pace.aheadOf("c", "b", 6)?.likely ?? 0) / 6, 9);
  expect(soak.paceAtBench(asked)?.by).toBe("lot");
});

test("a slow day at the bench makes the row slower too, within its narrower range", () => {
  show(null);
  const before = soak.paceAtBench(asked);
  orders.lookOnBench(null);
  cut(300, 6);
  const after = soak.paceAtBench(asked);
  expect(minutes()).toBeGreaterThan(4.3);
  const counted = orders.piecesIn(orders.sessionAt("m")).filter((piece) => minutesOf(piece) !== null).length;
  expect(counted).toBeGreaterThanOrEqual(5);
  expect(after?.by).toBe(counted);
  const wide = (of: typeof after): number => (of?.slow_s ?? 0) / (of?.quick_s ?? 1);
  expect(wide(after)).toBeLessThan(wide(before));
  expect(after && words.moved(after, 6, BEGAN, BEGAN)).toMatch(/^At 4\.\d min a piece, by [56] of today, the next six/);
});

test("without a slip it goes by the last pieces, from three on", () => {
  slips.showSlips([]);
  orders.lookOnBench(null);
  cut(240, 2);
  expect(soak.paceAtBench(asked)).toBeNull();
  cut(240, 2);
  expect(minutes()).toBeCloseTo(4, 5);
  expect(soak.paceAtBench(asked)?.by).toBe("last");
});
