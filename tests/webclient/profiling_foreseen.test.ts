// Pace and watch on the phone: the same answers as the server's, and how quickly.
import { expect, test } from "vitest";
import { minutesAhead, type Pace, readPace, sharpness, turnsAhead } from "../../webclient/src/profiling/foreseen_rules";
import { runRules } from "../../webclient/src/profiling/foreseen_run_rules";
import { type Cut, type WatchedBy, watchEdge } from "../../webclient/src/profiling/foreseen_watch_rules";
import { readWatch } from "../../webclient/src/profiling/foreseen_watch_slip_rules";
import pace from "../shared_cases/pace.json" with { type: "json" };
import watch from "../shared_cases/watch.json" with { type: "json" };

test.each(watch.cases.map((one) => [one.name, one] as const))("both sides watch alike: %s", (_, one) => {
  const found = watchEdge(one.by as WatchedBy, one.cuts as Cut[]);
  expect(found.named).toBe(one.expect.named);
  expect(found.onset).toBe(one.expect.onset);
  expect(found.rise).toBeCloseTo(one.expect.rise, 6);
  expect(found.total).toBeCloseTo(one.expect.total, 6);
});

test.each(pace.ahead.map((one) => [one.name, one] as const))("both sides foresee alike: %s", (_, one) => {
  const found = minutesAhead(one.pace as Pace, one.age, one.pieces, one.today as [number, number][]);
  expect(found.likely).toBeCloseTo(one.expect.likely, 8);
  expect(found.low).toBeCloseTo(one.expect.low, 8);
  expect(found.high).toBeCloseTo(one.expect.high, 8);
});

test.each(pace.sharpness.map((one) => [one.name, one] as const))("both sides know how sharp: %s", (_, one) => {
  const found = sharpness(one.pace, one.recent as unknown as [number, number, number][]);
  expect(found?.index).toBeCloseTo(one.expect.index, 8);
  expect(found?.low).toBeCloseTo(one.expect.low, 8);
  expect(found?.high).toBeCloseTo(one.expect.high, 8);
  expect(found?.others).toBeCloseTo(one.expect.others, 8);
});

test.each(pace.turns.map((one) => [one.name, one] as const))("both sides foresee turns alike: %s", (_, one) => {
  const found = turnsAhead(one.lot, one.all, one.age);
  expect(found?.[0]).toBeCloseTo(one.expect[0] as number, 8);
  expect(found?.slice(1)).toEqual(one.expect.slice(1));
});

const all = { sigma: 0.07, tau: 0.05, by_age: 0.01, degrees: 20, centre: 1.1, error: 0.12, last: "b" };

test("a lot with too few pieces goes by the others, and says how many are wanting", () => {
  const said = readPace({ centre: 1.5, error: 0.05, wanting: 9 }, all, null, 15);
  expect(said).toMatchObject({ wanting: 9, standsIn: "b", pieces: 15 });
  expect(said?.pace.centre).toBe(1.1);
});

test("a lot that is slower beyond doubt is called so, one that may be chance is not", () => {
  const slower = (by: number) =>
    readPace({ centre: 1.3, error: 0.04, beside: { slower: by, error: 0.047, lots: 3 } }, all, null)?.slower;
  expect(slower(0.213)?.likely).toBeCloseTo(0.237, 3);
  expect(slower(0.12)).toBeNull();
  // Student's t with 20 degrees of freedom, two-sided 90 %: 1.7247 (any table)
  expect(slower(0.213)?.low).toBeCloseTo(Math.exp(0.213 - 1.7247 * 0.047) - 1, 3);
});

test("a lot is known less well on a machine that has not cut it, and least on one that has cut nothing", () => {
  const every = { ...all, machines: { m: 0, n: 0.1 }, machines_differ: 0.2, slopes: [0.001, 0, 0.002] };
  const lot = { centre: 1.3, error: 0.04, with_slopes: [-0.001, 0], on: { n: [0.09, -0.002, 0.001] } };
  const on = (machine: string) => readPace(lot, every, machine)?.pace;
  expect(on("m")).toMatchObject({ centre: 1.3, error: 0.04, with_slopes: [-0.001, 0], slopes: [0.001, 0, 0.002] });
  expect(on("n")).toMatchObject({ centre: 1.4000000000000001, error: 0.09, with_slopes: [-0.002, 0.001] });
  expect(on("new")?.centre).toBe(1.3);
  expect(on("new")?.error).toBeCloseTo(Math.hypot(0.04, 0.2), 9);
});

test("what is odd in how well a lot is known is passed over", () => {
  const odd = { centre: 1.3, error: 0.04, with_slopes: ["x", 1], on: 3 };
  expect(readPace(odd, { ...all, slopes: [0.1] }, "m")?.pace).toMatchObject({ with_slopes: [0, 0], slopes: [0.1, 0, 0] });
});

test("without a slip, or with one that cannot be read, nothing is said", () => {
  expect(readPace(undefined, undefined, null)).toBeNull();
  expect(readPace(undefined, { sigma: "0.1", centre: 1 }, null)).toBeNull();
  expect(turnsAhead(undefined, undefined, 3)).toBeNull();
});

// the same sequences as in tests/published/test_control_charts.py (L. S. Nelson 1984; Western Electric 1956)
test.each([
  ["western electric 1", [0, 0, 3.01], [3]],
  ["western electric 2", [2.1, 0, 2.1], [3]],
  ["nelson 5", [2.1, 0, -2.1], []],
  ["western electric 3", [1.1, 1.1, 0, 1.1, 1.1], [5]],
  ["western electric 4", [0.1, 0.1, 0.1, 0.1, 0.1, 0.1, 0.1, 0.1], [8]],
  ["nelson 2", [0.1, 0.1, 0.1, 0.1, 0.1, 0.1, 0.1, 0.1], []],
  ["nelson 2", Array.from({ length: 10 }, () => -0.1), [9, 10]],
  ["no such rule", [9, 9, 9], []],
] as const)("%s signals where it should", (rule, z, at) => {
  expect(runRules(z, [rule])).toEqual(at);
});

const slip = {
  sigma: 0.07, tau: 0.05, loses: 0.04, blunt_loses: 0.15, decision: 9, by_age: 0.03, new: [1.1, 0.12],
  lots: { b: [1.2, 0.02], odd: "x" }, rules: ["nelson 2", 3], once_in: 30_000, good: 100,
  choices: { usual: 10_000, keener: "x" },
  readings: [{ point: "middle", wet: true, drifted_at: 9 }, { point: "shoulder", wet: true, drifted_at: null }, 7],
};

test("a watch slip is read with what is odd in it passed over", () => {
  const watch = readWatch(slip);
  expect(watch?.lotIs("b")).toEqual({ centre: 1.2, error: 0.02 });
  expect(watch?.lotIs("odd")).toEqual({ centre: 1.1, error: 0.12 });
  expect(watch?.rules).toEqual(["nelson 2"]);
  expect(watch?.choices).toEqual({ usual: 10_000, keener: null });
  expect(watch?.drifts).toEqual([{ point: "middle", wet: true }]);
});

test("a watch slip with too few pieces, or none, watches nothing", () => {
  expect(readWatch({ wanting: 9, good: 100 })).toBeNull();
  expect(readWatch(undefined)).toBeNull();
  expect(readWatch({ ...slip, sigma: 0 })).toBeNull();
});
