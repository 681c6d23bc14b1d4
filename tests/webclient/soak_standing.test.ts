import { expect, test } from "vitest";
import { type DraftFacts, intoOf, lastPlan, newDraft, optionsOf } from "../../webclient/src/soak/draft";
import type { Soak, SoakHabit } from "../../webclient/src/soak/model";
import { standingOf, whose } from "../../webclient/src/soak/standing";
import { breakable } from "../../webclient/src/soak/words";

const START = Date.parse("2026-11-25T12:36:00.000Z");
const MIN = 60_000;
const no_habit: SoakHabit = { water: null, warm_s: null, cold_s: null, overnight_s: null };
const no_marks = { good_s: null, too_soft_s: null, still_hard_s: null };

function soak(id: string, part: Partial<Soak> & { min?: number; out_min?: number } = {}): Soak {
  const { min, out_min, ...rest } = part;
  return {
    id, purpose: "profile", pieces: 6, batch: "d1", lot: "d", jar: "1", water: "warm", water_c: 38, soak_s: 1800,
    put_in: new Date(START + (min ?? 0) * MIN).toISOString(), put_in_skew_ms: null,
    taken_out: out_min === undefined ? null : new Date(START + out_min * MIN).toISOString(), taken_out_skew_ms: null,
    mark: null, drying_since: null, dried_at: null, silenced_at: null, rings_again_at: null, next_silenced_at: null,
    next_rings_again_at: null, run: null, of_pieces: null, every_s: null, note: null, ...rest,
  };
}

test("a row of sixes is spoken of as first and second six", () => {
  const first = soak("a", { of_pieces: 24, every_s: 1080 });
  const second = soak("b", { min: 18, run: "a", of_pieces: 24, every_s: 1080 });
  const stand = (one: Soak) => standingOf(one, [second, first], START + 20 * MIN, no_habit, "D");
  expect(stand(first).name).toBe("First six");
  expect(stand(second).within).toBe("the second six of lot D are");
});

test("of two rows in the water each says its lot", () => {
  const first = soak("a", { of_pieces: 24, every_s: 1080 });
  const other = soak("c", { lot: "e", of_pieces: 12, every_s: 1080 });
  const name = (all: Soak[]) => standingOf(first, all, START + 20 * MIN, no_habit, "D").name;
  expect(name([first, other])).toBe("First six, lot D");
  expect(name([first, { ...other, taken_out: new Date(START + 19 * MIN).toISOString() }])).toBe("First six");
});

test("what went in by itself is named by its number and lot, cane without a number as cane", () => {
  expect(standingOf(soak("a"), [], START, no_habit, "D").name).toBe("6 of lot D");
  expect(standingOf(soak("a", { pieces: null }), [], START, no_habit, null)).toMatchObject({ name: "The cane", within: "the cane is" });
  expect(standingOf(soak("a", { pieces: 1 }), [], START, no_habit, null).within).toBe("the one is");
});

test("after a night without power it says how long ago it was done", () => {
  const stand = standingOf(soak("a"), [], START + 34 * MIN, no_habit, null);
  expect(stand).toMatchObject({ state: "ready", wait_min: 0, ago_min: 4, in_min: 34, wet: 1 });
});

test("the red thread is tied only where this maker has a mark", () => {
  expect(standingOf(soak("a"), [], START, no_habit, "D")).toMatchObject({ thread_min: null, by: "by practice", lath_min: 40 });
  const marked = soak("b", { min: -600, out_min: -569, mark: "good" });
  expect(standingOf(soak("a"), [marked], START, no_habit, "D")).toMatchObject({ thread_min: 31, by: "your mark" });
});

test("whose figure it is: a mark near it, the habit, practice, or the maker's choice", () => {
  expect(whose(1800, "warm", no_habit, { ...no_marks, good_s: 1900 })).toBe("your mark");
  expect(whose(1800, "warm", no_habit, { ...no_marks, good_s: 2400 })).toBe("by practice");
  expect(whose(2700, "warm", { ...no_habit, warm_s: 2700 }, no_marks)).toBe("your habit");
  expect(whose(2500, "warm", no_habit, no_marks)).toBe("your choice");
});

function facts(part: Partial<DraftFacts>): DraftFacts {
  return { soaks: [], habit: no_habit, lots: [{ id: "d", label: "D" }], batches: [], next: null, now: START, ...part };
}

test("the first time there is nothing to repeat, and the habit chosen on the first evening stands", () => {
  const first = facts({ habit: { ...no_habit, water: "cold" } });
  expect(newDraft(first).choice).toBe("other");
  expect(optionsOf(first, newDraft(first))).toEqual([]);
  expect(intoOf(first, newDraft(first))).toMatchObject({ water: "cold", water_c: 12, soak_s: 14400, pieces: 6 });
});

test("as last time goes over to the batch whose turn it is, with its own number and lot", () => {
  const row = [0, 18, 36, 54].map((min, n) => soak(`r${n}`, { min: min - 3000, out_min: min - 2970, batch: "c1", lot: "c" }));
  const turn = facts({ soaks: row, next: { id: "d1", label: "D1", lot: "d", left: 20 } });
  expect(lastPlan(turn)).toMatchObject({ batch: "d1", lot: "d", pieces: 6, of_pieces: 20, every_s: 1080, soak_s: 1800 });
  const [all, one] = optionsOf(turn, newDraft(turn));
  expect(all).toMatchObject({ of: 20, groups: 4, staggered: true });
  expect(one).toMatchObject({ of: 6, staggered: false });
});

test("fewer left than last time's group: just those go in", () => {
  const last = soak("a", { pieces: 8, out_min: 30, batch: "c1" });
  expect(lastPlan(facts({ soaks: [last], next: { id: "d1", label: "D1", lot: "d", left: 5 } }))).toMatchObject({ pieces: 5, of_pieces: null });
});

test("six put in at once last time are six again, not the whole batch", () => {
  const last = soak("a", { pieces: 6, out_min: 30, batch: "c1" });
  const plan = lastPlan(facts({ soaks: [last], next: { id: "d1", label: "D1", lot: "d", left: 24 } }));
  expect(plan).toMatchObject({ pieces: 6, of_pieces: null, every_s: null, batch: "d1" });
});

test("another water takes its own time and temperature; a number typed wins", () => {
  const last = facts({ soaks: [soak("a", { out_min: 30, soak_s: 2100 })] });
  const draft = newDraft(last);
  expect(intoOf(last, draft)).toMatchObject({ water: "warm", soak_s: 2100 });
  expect(intoOf(last, { ...draft, water: "cold" })).toMatchObject({ water_c: 12, soak_s: 14400 });
  expect(intoOf(last, { ...draft, water: "warm", water_c: 42 })).toMatchObject({ water_c: 42, soak_s: 2100 });
});

test("a label without a space may break, a short one and one with spaces stand as they are", () => {
  expect(breakable("D")).toBe("D");
  expect(breakable("north side")).toBe("north side");
  expect(breakable("Windowsill2025")).toBe("Windowsi\u200bll2025");
});

test("while a row is under way its next group is what goes in, whatever went in since", () => {
  const first = soak("a", { of_pieces: 24, every_s: 1080 });
  const formed = soak("b", { min: 10, pieces: 3, purpose: "form" });
  const open = facts({ soaks: [first, formed], next: { id: "d1", label: "D1", lot: "d", left: 18 }, now: START + 11 * MIN });
  const draft = newDraft(open);
  expect(optionsOf(open, draft)).toMatchObject([{ choice: "last", of: 6, staggered: false }]);
  expect(intoOf(open, draft)).toMatchObject({ pieces: 6, run: "a", purpose: "profile", of_pieces: 24, every_s: 1080 });
  expect(intoOf(open, { ...draft, choice: "other", pieces: 3 })).toMatchObject({ pieces: 3, run: null, of_pieces: null });
});

test("a row that was ended leaves for next time what is still dry", () => {
  const ended = soak("a", { of_pieces: 6, every_s: 1080, out_min: 30 });
  const twice = [ended, soak("b", { min: 18, run: "a", of_pieces: 6, every_s: 1080 })];
  const plan = lastPlan(facts({ soaks: twice, next: { id: "d1", label: "D1", lot: "d", left: 12 }, now: START + 40 * MIN }));
  expect(plan).toMatchObject({ pieces: 6, of_pieces: 12, every_s: 1080, run: null });
});
