import { describe, expect, test } from "vitest";
import type { Batch, Lot, Stage, Tally } from "../../webclient/src/batches/model";
import * as rules from "../../webclient/src/batches/rules";

const batch = (more: Partial<Batch> = {}): Batch => ({
  id: "b", label: "B1", lot: "l", pieces: 30, wantedGood: null, plannedDay: null, machine: null, stages: null, firstStage: null, note: null, closed: false, ...more,
});
const lot = (more: Partial<Lot> = {}): Lot => ({
  id: "l", label: "B", comes: "gouged", gouge_mm: null, diameter_mm: null, bought: null, pieces: null, note: null, ...more,
});
const tally = (stage: Stage, started: number, good: number, more: Partial<Tally> = {}): Tally => ({
  id: `${stage}${started}`, batch: "b", stage, machine: null, at: null, day: null, started, good, second: 0, lostBy: {}, opening: false, note: null, ...more,
});
const stands = (tallies: Tally[], more: Partial<Batch> = {}, cut = rules.NOTHING_CUT, comes: Partial<Lot> = {}): rules.Stands =>
  rules.whereStands(batch(more), lot(comes), [], tallies, cut);
const columns = (one: rules.Stands): (number | null)[][] => [one.stages.map((stage) => stage.passed), one.stages.map((stage) => stage.lying)];

describe("where a batch stands", () => {
  test("a new one of gouged cane lies gouged, and is profiled next", () => {
    const one = stands([]);
    expect(columns(one)).toEqual([[30, null, null, null, null], [30, 0, 0, 0, 0]]);
    expect(one.next).toEqual({ stage: "profiled", pieces: 30, since: null });
  });
  test("through four stages: what passed each, and where the pieces lie", () => {
    const one = stands([tally("profiled", 30, 29), tally("shaped", 29, 29), tally("formed", 29, 28), tally("finished", 9, 9)]);
    expect(columns(one)).toEqual([[30, 29, 29, 28, 9], [0, 0, 0, 19, 9]]);
    expect(one.next).toMatchObject({ stage: "finished", pieces: 19 });
  });
  test("what was tapped at the bench counts as profiled, seconds go on, lost ones do not", () => {
    const one = stands([], { pieces: 24 }, { good: 21, second: 1, lost: 2, last: "2026-11-25T15:24:00.000Z" });
    expect(columns(one)).toEqual([[24, 22, null, null, null], [0, 22, 0, 0, 0]]);
    expect(one.next).toEqual({ stage: "shaped", pieces: 22, since: "2026-11-25T15:24:00.000Z" });
    expect(one.good).toBe(21);
  });
  test("half of it cut: the rest still lies gouged", () => {
    const one = stands([], { pieces: 24 }, { good: 10, second: 0, lost: 0, last: null });
    expect(columns(one)[1]).toEqual([14, 10, 0, 0, 0]);
    expect(one.next).toMatchObject({ stage: "profiled", pieces: 14 });
  });
  test("in the maker's own order, where shaping comes first", () => {
    const order: Stage[] = ["gouged", "shaped", "profiled", "formed", "finished"];
    const one = rules.whereStands(batch({ pieces: 24 }), lot(), order, [tally("shaped", 24, 24)], rules.NOTHING_CUT);
    expect(one.stages.map((stage) => stage.stage)).toEqual(order);
    expect(one.next).toMatchObject({ stage: "profiled", pieces: 24 });
  });
  test("a batch's own order wins over the workshop's", () => {
    const own: Stage[] = ["profiled", "formed", "finished"];
    expect(rules.stagesOf(batch({ stages: own }), ["gouged", "shaped"])).toEqual(own);
  });
  test("cane bought profiled has profiling behind it", () => {
    const one = stands([], {}, rules.NOTHING_CUT, { comes: "profiled" });
    expect(columns(one)[0]).toEqual([null, 30, null, null, null]);
    expect(one.next).toMatchObject({ stage: "shaped", pieces: 30 });
  });
  test("cane as tube is gouged first", () => expect(stands([], {}, rules.NOTHING_CUT, { comes: "tube" }).next).toMatchObject({ stage: "gouged", pieces: 30 }));
  test("an edge's opening count belongs to no batch", () =>
    expect(columns(stands([tally("profiled", 150, 0, { opening: true, batch: null })]))[0]).toEqual([30, null, null, null, null]));
  test("all lost: nothing waits", () => expect(stands([tally("profiled", 30, 0)]).next).toBeNull());
});

test("the stage that waits longest is first, and a batch planned for later does not wait", () => {
  const one = (id: string, since: string | null, more: Partial<Batch> = {}) => ({
    batch: batch({ id, ...more }),
    stands: { ...stands([]), next: { stage: "shaped" as const, pieces: 9, since } },
  });
  const all = [one("late", "2026-11-20T10:00:00.000Z"), one("long", "2026-11-03T10:00:00.000Z"), one("closed", "2026-01-01T10:00:00.000Z", { closed: true }), one("planned", null, { plannedDay: "2026-12-01" })];
  expect(rules.waitsLongest(all, "2026-11-25")?.batch.id).toBe("long");
  expect(rules.waitsLongest([all[3]!], "2026-11-25")).toBeNull();
});

test("the bench goes on with the batch begun, else takes today's, else an overdue one", () => {
  const one = (id: string, plannedDay: string | null, begun = false, left = 24) => ({ batch: batch({ id, plannedDay }), left, begun, last: begun ? "2026-11-24" : null });
  const all = [one("next", "2026-11-27"), one("today", "2026-11-25"), one("old", "2026-11-20"), one("half", "2026-11-24", true, 10), one("through", "2026-11-25", true, 0)];
  const on = (of: typeof all) => rules.batchForBench(of, "2026-11-25")?.batch.id;
  expect(on(all)).toBe("half");
  expect(on(all.slice(0, 3))).toBe("today");
  expect(on([all[0]!, all[2]!])).toBe("old");
  expect(on([all[4]!])).toBeUndefined();
});

describe("a tally", () => {
  test("adds up: good is what is neither lost nor a second", () => expect(rules.tallied(30, 0, 4)).toEqual({ good: 26, second: 0, lost: 4 }));
  test("never loses more than were started", () => expect(rules.tallied(3, 2, 9)).toEqual({ good: 0, second: 0, lost: 3 }));
  test("starts from what is left of the batch, else from last time, else from two dozen", () => {
    expect(rules.startingCount(30, null)).toBe(30);
    expect(rules.startingCount(null, tally("profiled", 28, 28))).toBe(28);
    expect(rules.startingCount(0, null)).toBe(24);
  });
});

test("a new batch of a lot gets its next free label", () => {
  expect(rules.nextLabel("D", [batch({ label: "D1" }), batch({ label: "D3" })])).toBe("D2");
  expect(rules.nextLabel(null, [])).toBe("1");
});

test("batches stand newest first, the closed ones after", () =>
  expect(rules.newestFirst([batch({ id: "1", plannedDay: "2026-11-20" }), batch({ id: "2", plannedDay: "2026-11-25", closed: true }), batch({ id: "3", plannedDay: "2026-11-25" })]).map((one) => one.id)).toEqual(["3", "1", "2"]));

test("what is planned for later stands after what is here, the nearest day first", () => {
  const one = (id: string, plannedDay: string | null) => ({ batch: batch({ id, plannedDay }) });
  const all = [one("far", "2026-12-03"), one("near", "2026-11-27"), one("today", "2026-11-25"), one("old", "2026-11-20"), one("none", null)];
  expect(rules.asListed(all, "2026-11-25").map((each) => each.batch.id)).toEqual(["today", "old", "none", "near", "far"]);
});

describe("what is left for the machine", () => {
  const left = (tallies: Tally[], cut = rules.NOTHING_CUT, more: Partial<Batch> = {}, comes: Partial<Lot> = {}): number =>
    rules.leftToProfile(batch(more), stands(tallies, more, cut, comes), rules.profiledOf("b", tallies, cut));
  test("what was tapped and what was written up are cut", () => {
    expect(left([tally("profiled", 10, 9)], { good: 4, second: 0, lost: 1, last: null })).toBe(15);
    expect(left([tally("profiled", 30, 28)])).toBe(0);
  });
  test("nothing of cane that came profiled, or that is written up at a later stage", () => {
    expect(left([], rules.NOTHING_CUT, {}, { comes: "profiled" })).toBe(0);
    expect(left([tally("shaped", 30, 28)])).toBe(0);
  });
  test("a batch that does not say how many it has is not through", () => {
    expect(left([], rules.NOTHING_CUT, { pieces: null })).toBe(1);
  });
});
