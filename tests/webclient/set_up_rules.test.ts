import { describe, expect, it } from "vitest";
import type { Machine, Setting, Stop } from "src/set_up/model";
import * as words from "src/set_up/words";
import threads from "../shared_cases/threads.json";
import { changedSince, height_mm, type LastTime, type Now, pitch_mm, readTurns, settingsOf, slipOf } from "src/set_up/rules";
import { lowered_mm } from "src/set_up/foreseen_rules";

describe("the pitch of a screw", () => {
  // ISO 261:1998, ISO 262:1998, coarse series
  const coarse: [string, number][] = [
    ["M1", 0.25], ["M1.2", 0.25], ["M1.4", 0.3], ["M1.6", 0.35], ["M1.8", 0.35], ["M2", 0.4], ["M2.2", 0.45], ["M2.5", 0.45],
    ["M3", 0.5], ["M3.5", 0.6], ["M4", 0.7], ["M5", 0.8], ["M6", 1], ["M7", 1], ["M8", 1.25], ["M10", 1.5],
  ];
  it.each(coarse)("%s is coarse by ISO 261: %f mm", (size, pitch) => {
    expect(pitch_mm(size)).toBe(pitch);
  });

  it("M12 coarse is 1.75 mm (ISO 262, from memory)", () => {
    expect(pitch_mm("M12")).toBe(1.75);
  });

  // ISO 261:1998, fine pitches (from memory)
  const fine: [string, number][] = [
    ["M1.6x0.2", 0.2], ["M2x0.25", 0.25], ["M2.5x0.35", 0.35], ["M3x0.35", 0.35], ["M4x0.5", 0.5], ["M5 x 0.5", 0.5],
    ["M6×0.75", 0.75], ["M8x1", 1], ["M8x0.75", 0.75],
  ];
  it.each(fine)("%s is fine and says its pitch", (size, pitch) => {
    expect(pitch_mm(size)).toBe(pitch);
  });

  // ASME B1.1-2003, UNF series; pitch = 25.4 / threads to the inch
  const unf: [string, number][] = [
    ["#0 UNF", 80], ["#1 UNF", 72], ["#2 UNF", 64], ["#3 UNF", 56], ["#4 UNF", 48], ["#5 UNF", 44], ["#6 UNF", 40],
    ["#8 UNF", 36], ["#10 UNF", 32], ["#12 UNF", 28], ["1/4 UNF", 28],
  ];
  it.each(unf)("%s has %i threads to the inch", (size, perInch) => {
    expect(pitch_mm(size)).toBeCloseTo(25.4 / perInch, 9);
  });

  // ASME B1.1-2003, UNC series (from memory but for #4, #6 and #8, which are read)
  const unc: [string, number][] = [
    ["#2 UNC", 56], ["#4-40 UNC", 40], ["#6-32", 32], ["#8-32 UNC", 32], ["8-32", 32], ["#10-24 UNC", 24], ["1/4-20 UNC", 20], ["3/8 UNC", 16],
  ];
  it.each(unc)("%s has %i threads to the inch", (size, perInch) => {
    expect(pitch_mm(size)).toBeCloseTo(25.4 / perInch, 9);
  });

  it("#0 has no coarse thread: ASME B1.1 knows it as UNF only", () => {
    expect(pitch_mm("#0 UNC")).toBeNull();
  });

  it.each(["M4.2", "M0.5x0.7", "#8", "#8-36 UNC", "#7-40", "a screw", "", "M", "M4x0"])("says nothing about %j", (size) => {
    expect(pitch_mm(size)).toBeNull();
  });

  it("a quarter turn of #8-32 is 0.1984375 mm, an eighth of M5 is 0.1 mm", () => {
    // arithmetic: height = pitch x turns for a single-start thread
    expect(height_mm(pitch_mm("#8-32") ?? 0, 0.25)).toBeCloseTo(0.1984375, 9);
    expect(height_mm(pitch_mm("M5") ?? 0, 0.125)).toBeCloseTo(0.1, 9);
  });
});

describe("a screw's size", () => {
  it.each(threads.cases.map((each): [string, number | null] => [each.size, each.pitch_mm]))("%j is read as on the server", (size, pitch) => {
    if (pitch === null) expect(pitch_mm(size)).toBeNull();
    else expect(pitch_mm(size)).toBeCloseTo(pitch, 12);
  });
});

describe("a stop that moved", () => {
  const turns = (value: number): Stop => ({ way: "turns", value });

  it("went down by its pitch where clockwise lowers it", () => {
    expect(lowered_mm(turns(2.25), turns(2.375), "M4x0.5", "clockwise")).toBeCloseTo(0.0625, 9);
  });

  it("went up by the same turn where anticlockwise lowers it", () => {
    expect(lowered_mm(turns(2.25), turns(2.375), "M4x0.5", "anticlockwise")).toBeCloseTo(-0.0625, 9);
  });

  it("is measured on the gauge without any thread", () => {
    expect(lowered_mm({ way: "mm", value: 3.1 }, { way: "mm", value: 3.05 }, null, null)).toBeCloseTo(0.05, 9);
  });

  it.each<[Stop | null, Stop | null, string | null]>([
    [turns(2), turns(3), null],
    [turns(2), { way: "mm", value: 3 }, "M4"],
    [{ way: "words", value: "a hair" }, { way: "words", value: "two" }, "M4"],
    [null, turns(1), "M4"],
    [turns(2), turns(3), "no size"],
  ])("from %j to %j by thread %j says no height", (from, to, thread) => {
    expect(lowered_mm(from, to, thread, "clockwise")).toBeNull();
  });

  it.each([
    [2.375, "2 3/8"], [2.4375, "2 7/16"], [0, "0"], [1, "1"], [0.0625, "1/16"], [0.5, "1/2"], [-1.25, "−1 1/4"], [-0.875, "−7/8"], [2.999, "3"], [2.431, "2.431"],
  ])("%s turns are written %s", (value, written) => {
    expect(words.turns(value)).toBe(written);
  });
});

it.each<[string, number | null]>([
  ["2 3/8", 2.375], ["3/8", 0.375], ["2", 2], ["-1/8", -0.125], ["−1 1/2", -1.5], [" 1  1/4 ", 1.25], ["1/0", null], ["", null], ["2.375", null], ["a hair", null],
])("turns written %j are read as %j", (typed, turns) => {
  expect(readTurns(typed)).toBe(turns);
});

const machine: Machine = {
  id: "m1", name: "Machine 1", does: "profile", instrument: "bassoon", middle_thread: "M4x0.5", shoulder_thread: "M4x0.5",
  middle_lowers: "clockwise", shoulder_lowers: "clockwise", template: "2", turn_habit: "passes", counts_turns: false,
  bow_after_pieces: 200, note: null,
};
const setting = (id: string, at: string): Setting => ({
  id, machine: "m1", blade: "b3", middle_stop: { way: "turns", value: 2.25 }, shoulder_stop: null, projection_mm: 0.05, template: "2", why: null, moved: null, at,
});
const monday: LastTime = { began: "2026-11-23T13:00:00.000Z", blade: "b3", lot: "C", gouge_mm: 1.24, setting: "s1" };
const same: Now = {
  machine, blade: "b3", fitted_at: "2026-11-02T09:00:00.000Z", edge_pieces: 60, setting: setting("s1", "2026-11-02T10:00:00.000Z"),
  lot: "C", gouge_mm: 1.24, is_oil_due: false,
};

describe("what changed since last time", () => {
  it("is nothing where all stands as it stood", () => {
    expect([...changedSince(monday, same)]).toEqual([]);
  });

  it("is projection and both stops after a change of blade", () => {
    const changed = changedSince(monday, { ...same, blade: "b4", fitted_at: "2026-11-24T16:10:00.000Z", edge_pieces: 0 });
    expect([...changed]).toEqual([["projection", "new_blade"], ["middle_stop", "new_blade"], ["shoulder_stop", "new_blade"]]);
  });

  it("is projection and both stops where the same blade was taken out, ground and fitted again", () => {
    expect(changedSince(monday, { ...same, fitted_at: "2026-11-24T16:10:00.000Z" }).get("projection")).toBe("new_blade");
  });

  it("is the lot where another one lies ready", () => {
    expect([...changedSince(monday, { ...same, lot: "D", gouge_mm: 1.28 })]).toEqual([["lot", "new_lot"]]);
  });

  it("is the pivot where oil is due", () => {
    expect([...changedSince(monday, { ...same, is_oil_due: true })]).toEqual([["pivot", "oil_due"]]);
  });

  it("is the edge from nine tenths of its count on, and not before", () => {
    expect(changedSince(monday, { ...same, edge_pieces: 179 }).has("edge")).toBe(false);
    expect(changedSince(monday, { ...same, edge_pieces: 180 }).get("edge")).toBe("near_count");
  });

  it("is a scrap to try where a screw was moved since", () => {
    const changed = changedSince(monday, { ...same, setting: setting("s2", "2026-11-24T10:00:00.000Z") });
    expect([...changed]).toEqual([["scrap", "setting_moved"]]);
  });

  it("is edge, projection and stops the first time", () => {
    expect([...changedSince(null, same).keys()]).toEqual(["edge", "projection", "middle_stop", "shoulder_stop"]);
  });
});

describe("the slip", () => {
  const changed = changedSince(monday, { ...same, blade: "b4", fitted_at: "2026-11-24T16:10:00.000Z", edge_pieces: 0 });

  it("has one row for all where nothing changed, and one tap ends it", () => {
    const slip = slipOf(new Map(), {});
    expect(slip.top).toEqual([]);
    expect(slip.rest).toHaveLength(9);
    expect(slip.next).toBe("rest");
    expect(slip.open).toBe(1);
  });

  it("takes four taps after a change of blade", () => {
    expect(slipOf(changed, {}).open).toBe(4);
    expect(slipOf(changed, {}).next).toBe("projection");
  });

  it("goes on with the first row that is not answered", () => {
    expect(slipOf(changed, { projection: "good" }).next).toBe("middle_stop");
    expect(slipOf(changed, { projection: "good", middle_stop: "not_looked", shoulder_stop: "good" }).next).toBe("rest");
  });

  it("lifts what needs work to the top", () => {
    expect(slipOf(new Map(), { template: "needs_work" }).top).toEqual(["template"]);
  });

  it("is through when all is answered", () => {
    const all = { edge: "good", projection: "good", middle_stop: "good", shoulder_stop: "good", pivot: "good", template: "good", scrap: "not_looked", lot: "good", soaked: "good" } as const;
    expect(slipOf(changed, all).next).toBeNull();
  });
});

it("the newest setting of a machine stands first, other machines' are left out", () => {
  const other = { ...setting("s9", "2026-12-01T10:00:00.000Z"), machine: "m2" };
  const all = [setting("s1", "2026-11-02T10:00:00.000Z"), setting("s2", "2026-11-24T10:00:00.000Z"), other];
  expect(settingsOf("m1", all).map((each) => each.id)).toEqual(["s2", "s1"]);
});

it("a second set-up on one day is as earlier today, else as on its day", () => {
  expect(words.head(words.earlier_today, [])).toBe("Set-up, all as earlier today");
  expect(words.head(words.on_day("Monday"), ["new lot"])).toBe("Set-up, as on Monday, but new lot");
  expect(words.rest_good(words.earlier_today)).toBe("The rest: as earlier today");
});
