import { describe, expect, it } from "vitest";
import type { Change, Field, Row, Value } from "../../webclient/src/logbook/model";
import { pastOf, together, writtenSince } from "../../webclient/src/records/past";


const change = (id: string, set: Record<string, Value>, saw: Record<string, string | null> = {}): Change => ({
  id, v: 1, kind: "batch", record: "b1", device: "phone", made: `2026-11-23T15:0${id.at(-1)}:00.000Z`, set, saw, back: false,
});
const field = (value: Value, by: string, saw: string | null = null, seq: number | null = 1): Field => ({
  value, change: by, seq, when: "2026-11-23T15:00:00.000Z", back: false, saw,
});
const row = (fields: Record<string, Field>): Row => ({ kind: "batch", id: "b1", fields });

describe("what was written in a record before", () => {
  it("stands newest first", () => {
    const past = pastOf(row({}), [change("c1", { note: "a" }), change("c2", { note: "b" })]);
    expect(past.map((one) => one.change)).toEqual(["c2", "c1"]);
  });
  it("tells what stands from what was replaced knowingly", () => {
    const past = pastOf(row({ note: field("b", "c2", "c1") }), [change("c1", { note: "a" }), change("c2", { note: "b" }, { note: "c1" })]);
    expect(past[0]?.fields[0]).toEqual({ name: "note", value: "b", stands: true, other: null });
    expect(past[1]?.fields[0]).toEqual({ name: "note", value: "a", stands: false, other: null });
  });
  it("says what stands where another device wrote without having seen this", () => {
    const past = pastOf(row({ note: field("theirs", "t1") }), [change("c1", { note: "mine" })]);
    expect(past[0]?.fields[0]).toEqual({ name: "note", value: "mine", stands: false, other: { value: "theirs" } });
  });
  it("is not said to clash where the other device had seen it", () => {
    const past = pastOf(row({ note: field("theirs", "t1", "c1") }), [change("c1", { note: "mine" })]);
    expect(past[0]?.fields[0]?.other).toBeNull();
  });
});

describe("what was written in a record after it was removed", () => {
  it("is named", () => {
    expect(writtenSince(row({ removed: field(true, "c1", null, 5), note: field("late", "c2", null, 6), label: field("D", "c0", null, 1) }))).toEqual(["note"]);
  });
  it("counts what this phone has not sent yet", () => {
    expect(writtenSince(row({ removed: field(true, "c1", null, 5), note: field("late", "c2", null, null) }))).toEqual(["note"]);
  });
  it("is nothing where all is older", () => {
    expect(writtenSince(row({ removed: field(true, "c1", null, 5), note: field("a", "c0", null, 4) }))).toEqual([]);
  });
});

it("the workshop's past comes first, and what only this phone holds stands behind it, nothing twice", () => {
  const [a, b, c] = [change("c1", { note: "a" }), change("c2", { note: "b" }), change("c3", { note: "c" })];
  expect(together([a, b], [b, c]).map(({ id }) => id)).toEqual(["c1", "c2", "c3"]);
});
