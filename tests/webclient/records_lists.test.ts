import { describe, expect, it } from "vitest";
import { EVERYTHING, linesOf, matches, occurring } from "../../webclient/src/records/lists";
import type { Value } from "../../webclient/src/logbook/model";
import type { Derived } from "../../webclient/src/records/model";
import { entriesOf } from "./records_rows";

type Entry = { id: string; fields: Record<string, Value> };
import { standsOf } from "../../webclient/src/records/stands";

const piece = (id: string, session: string, number: number, at: string, more: Entry["fields"] = {}): Entry => ({
  id,
  fields: { session, number, batch: "b1", machine: "m1", began: `${at}:00.000Z`, at: `${at}:30.000Z`, seen: [], ...more },
});

const plain = {
  machine: [{ id: "m1", fields: { name: "Window machine" } }],
  lot: [{ id: "l1", fields: { label: "C" } }, { id: "l2", fields: { label: "B" } }],
  batch: [
    { id: "b1", fields: { label: "C1", lot: "l1", pieces: 3, planned_day: "2026-11-23" } },
    { id: "b2", fields: { label: "B6", lot: "l2", pieces: 25, planned_day: "2026-11-18" } },
    { id: "b3", fields: { label: "C2", lot: "l1", removed: true } },
  ],
  session: [
    { id: "s1", fields: { machine: "m1", began: "2026-11-23T12:00:00.000Z", ended: "2026-11-23T14:00:00.000Z", batches: ["b1"] } },
    { id: "s2", fields: { machine: "m1", began: "2026-11-24T12:00:00.000Z", ended: "2026-11-24T12:05:00.000Z", batches: ["b1"] } },
  ],
  piece: [
    piece("p2", "s1", 2, "2026-11-23T12:20", { seen: ["torn"], "outcome/c2": "lost", "outcome/c9": "good" }),
    piece("p1", "s1", 1, "2026-11-23T12:10", { "outcome/c1": "good" }),
    piece("p3", "s1", 3, "2026-11-23T12:30", { "outcome/c3": null }),
    piece("p4", "s1", 4, "2026-11-23T12:40", { "outcome/c4": "good", removed: true }),
  ],
  tally: [
    { id: "t1", fields: { batch: "b2", stage: "profiled", machine: "m1", at: "2026-11-18T11:00:00.000Z", day: "2026-11-18", started: 25, lost_by: { split: 1 } } },
    { id: "t2", fields: { batch: "b2", stage: "shaped", at: "2026-11-20T11:00:00.000Z", started: 24, good: 24 } },
    { id: "t3", fields: { stage: "profiled", machine: "m1", at: "2026-11-01T11:00:00.000Z", started: 150, opening: true } },
  ],
};
const entries = entriesOf(plain as unknown as Parameters<typeof entriesOf>[0]);
const outcome: Derived["outcome"] = { p1: "good", p2: "lost" };
const derived: Derived = {
  outcome,
  piece_edge: { p1: "3/1", p2: "4/2" },
  tally_edges: { t1: ["3/1"] },
  stands: standsOf(entries, outcome),
};
const lines = linesOf(entries, derived);

describe("work at the machine", () => {
  it("stands newest first, sessions and what was written up later in one list", () => {
    expect(lines.work.map(({ id }) => id)).toEqual(["s1", "t1"]);
  });
  it("leaves out a session that was opened and closed with no piece", () => {
    expect(lines.work.some(({ id }) => id === "s2")).toBe(false);
  });
  it("leaves out an opening count and the stages away from the machine", () => {
    expect(lines.work.some(({ id }) => id === "t2" || id === "t3")).toBe(false);
  });
  it("has the pieces in the order they came off, unfinished and removed ones left out", () => {
    expect(lines.work[0]?.pieces.map(({ id }) => id)).toEqual(["p1", "p2"]);
  });
  it("counts good from what was written, where only the start and the losses were", () => {
    expect(lines.work[1]?.counts).toEqual({ good: 24, second: 0, lost: 1 });
  });
  it("says nothing of the time a piece took where fewer than three were fully counted", () => expect(lines.work[0]?.minutes).toBe(null));
});

describe("the number of a piece", () => {
  // six written up and two tapped on Monday; Tuesday's session goes on with the batch, then begins another
  const days = {
    ...plain,
    tally: [{ id: "t9", fields: { batch: "b1", stage: "profiled", at: "2026-11-22T11:00:00.000Z", started: 6, second_count: 1, lost_by: { split: 1 } } }],
    piece: [
      piece("a1", "s1", 1, "2026-11-23T12:10"),
      piece("a2", "s1", 2, "2026-11-23T12:20"),
      piece("c1", "s2", 1, "2026-11-24T12:01"),
      piece("c2", "s2", 2, "2026-11-24T12:02", { batch: "b2" }),
      piece("c3", "s2", 3, "2026-11-24T12:03", { batch: null }),
      piece("c4", "s2", 4, "2026-11-24T12:04"),
      piece("c5", "s2", 5, "2026-11-24T12:05", { batch: null }),
      piece("c6", "s2", 6, "2026-11-24T12:06"),
    ],
  };
  const ended = Object.fromEntries(["a1", "a2", "c1", "c2", "c3", "c4"].map((id) => [id, "good" as const]));
  const { pieces, work } = linesOf(entriesOf(days as unknown as Parameters<typeof entriesOf>[0]), { ...derived, outcome: ended });
  it("is its place in its batch, as at the bench, after what was cut and written up before", () => {
    const told = pieces.filter(({ outcome }) => outcome).map(({ label, number }) => [label, number]);
    expect(told).toEqual([["C1", 10], [null, 1], ["B6", 1], ["C1", 9], ["C1", 8], ["C1", 7]]);
  });
  it("leaves the pieces of a session in the order they came off", () => {
    expect(work.find(({ id }) => id === "s2")?.pieces.map(({ id }) => id)).toEqual(["c1", "c2", "c3", "c4"]);
  });
  it("is none while it is not finished; what was taken back and has no batch is not listed", () => {
    expect(pieces.filter(({ outcome }) => !outcome).map(({ id, number }) => [id, number])).toEqual([["c6", null]]);
  });
});

describe("minutes a piece", () => {
  // a pause of an hour stands in the third piece's 63.4 minutes: it counts, without its minutes
  const ends = ["13:03:00", "13:06:00", "14:09:24", "14:12:24", "14:15:24", "14:24:24"];
  const taken = ends.map((end, i) =>
    piece(`m${i}`, "s1", i + 1, "2026-11-23T13:00", {
      began: `2026-11-23T${ends[i - 1] ?? "13:00:00"}.000Z`,
      at: `2026-11-23T${end}.000Z`,
      full: i !== 2,
    }),
  );
  const ended = Object.fromEntries(taken.map(({ id }) => [id, "good" as const]));
  const paused = linesOf(entriesOf({ ...plain, piece: taken } as unknown as Parameters<typeof entriesOf>[0]), { ...derived, outcome: ended });
  it("are the median of the fully counted ones, as at the bench", () => expect(paused.work[0]?.minutes).toBe(3));
  it("stand beside no piece that was not fully counted", () => {
    expect(paused.work[0]?.pieces.map(({ minutes }) => minutes)).toEqual([3, 3, null, 3, 3, 9]);
    expect(paused.work[0]?.counts.good).toBe(6);
  });
});

describe("batches", () => {
  it("stand by the day they were planned for, newest first, removed ones left out", () => {
    expect(lines.batches.map(({ label }) => label)).toEqual(["C1", "B6"]);
  });
  it("say how many came through each stage, and nothing of a stage never written up", () => {
    expect(lines.batches[1]?.came).toEqual([null, 24, 24, null, null]);
  });
  it("say how many were lost at all stages together, beside what came through each", () => {
    const shaped = { id: "t4", fields: { batch: "b2", stage: "shaped", at: "2026-11-21T11:00:00.000Z", started: 3, lost_by: { split: 2, twisted: 1 } } };
    const all = entriesOf({ ...plain, tally: [...plain.tally, shaped] } as unknown as Parameters<typeof entriesOf>[0]);
    const [, b6] = linesOf(all, { ...derived, stands: standsOf(all, outcome) }).batches;
    expect([b6?.lost, b6?.counts.lost]).toEqual([4, 1]);
  });
  it("take their edges from what was cut", () => expect(lines.batches[0]?.edges).toEqual(["3/1", "4/2"]));
});

describe("pieces", () => {
  it("stand newest first, an unfinished one too", () => {
    expect(lines.pieces.map(({ id }) => id)).toEqual(["p3", "p2", "p1"]);
  });
  it("say what another phone said of the same piece", () => {
    expect(lines.pieces.find(({ id }) => id === "p2")?.alsoSaid).toEqual(["good"]);
    expect(lines.pieces.find(({ id }) => id === "p1")?.alsoSaid).toEqual([]);
  });
});

describe("looking for a lot, an edge, a fault", () => {
  const found = (by: Partial<typeof EVERYTHING>): string[] => lines.work.filter((line) => matches(line, { ...EVERYTHING, ...by })).map(({ id }) => id);
  it("finds everything where nothing is asked", () => expect(found({})).toEqual(["s1", "t1"]));
  it("finds a lot", () => expect(found({ lot: "B" })).toEqual(["t1"]));
  it("finds every work that an edge had a part in", () => expect(found({ edge: "3/1" })).toEqual(["s1", "t1"]));
  it("finds a fault in pieces and in totals", () => {
    expect(found({ fault: "torn" })).toEqual(["s1"]);
    expect(found({ fault: "split" })).toEqual(["t1"]);
  });
  it("finds nothing where two do not meet", () => expect(found({ lot: "B", fault: "torn" })).toEqual([]));
  it("offers only what occurs", () => {
    expect(occurring(lines.work)).toEqual({ lots: ["C", "B"], edges: ["3/1", "4/2"], faults: ["torn", "split"] });
  });
});

it("thirty thousand pieces are listed, thirty to a session", () => {
  const many = 30_000;
  const years = {
    ...plain,
    session: Array.from({ length: many / 30 }, (_, i) => ({ id: `s${i}`, fields: { began: "2026-01-01T10:00:00.000Z", ended: "2026-01-01T11:00:00.000Z", batches: ["b1"] } })),
    piece: Array.from({ length: many }, (_, i) => piece(`p${i}`, `s${i % 1000}`, i, "2026-01-01T10:10")),
  };
  const all = Object.fromEntries(Array.from({ length: many }, (_, i) => [`p${i}`, "good" as const]));
  const rows = entriesOf(years as unknown as Parameters<typeof entriesOf>[0]);
  const listed = linesOf(rows, { ...derived, outcome: all });
  expect(listed.pieces.length).toBe(many);
  expect(listed.work.filter(({ kind }) => kind === "session").every(({ counts }) => counts.good === 30)).toBe(true);
});
