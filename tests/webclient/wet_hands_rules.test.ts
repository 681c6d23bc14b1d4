import { describe, expect, test } from "vitest";
import { keyStandsFor, learnedKeys } from "../../webclient/src/wet_hands/keys";
import {
  guarded,
  isNew,
  LEFT_OPEN_MS,
  nothing_down,
  pressed,
  REST_MS,
  rested,
  restAfter_ms,
  ring_shut,
  type Guard,
  type PedalDoes,
  type PedalKey,
  type PedalKeys,
  type Ring,
  type TouchEventSeen,
  type Verdict,
} from "../../webclient/src/wet_hands/rules";
import table from "../shared_cases/touch_traces.json";

function verdictsOf(events: TouchEventSeen[]): Verdict[] {
  let guard: Guard = nothing_down;
  const verdicts: Verdict[] = [];
  for (const seen of events) {
    const after = guarded(guard, seen);
    guard = after.guard;
    if (after.verdict !== null) verdicts.push(after.verdict);
  }
  return verdicts;
}

describe("the drip guard", () => {
  test.each(table.traces)("$name", ({ events, verdicts }) => {
    const seen = events.map(([what, finger, at, x, y]) => ({ what, finger, at, x, y }) as TouchEventSeen);
    expect(verdictsOf(seen)).toEqual(verdicts);
  });

  test("what came to stand in the edge just now is not taken by a second tap, what always stood there is", () => {
    expect([1400, 2199, 2200].map((at) => isNew("1400", at))).toEqual([true, true, false]);
    expect(isNew(undefined, 1400)).toBe(false);
  });

  test("a finger that went down before the page was open does nothing", () => {
    expect(verdictsOf([{ what: "up", finger: 7, at: 100, x: 0, y: 0 }])).toEqual([]);
  });
});

function played(presses: Array<[PedalKey | "rest", number]>, items: number, keys: PedalKeys): PedalDoes[] {
  let ring: Ring = ring_shut;
  return presses.map(([key, at]) => {
    const after = key === "rest" ? rested(ring) : pressed(ring, key, at, items, keys);
    ring = after.ring;
    return after.out;
  });
}

describe("a pedal of one key", () => {
  test("one press takes what stands in the edge", () => {
    expect(played([["take", 0]], 4, "one")).toEqual([{ does: "main" }]);
  });

  test("two presses a second apart are two pieces", () => {
    expect(played([["take", 0], ["take", 1000]], 4, "one")).toEqual([{ does: "main" }, { does: "main" }]);
  });

  test("two presses within 0.6 s take the first off again and open the ring", () => {
    expect(played([["take", 0], ["take", 600]], 4, "one").at(-1)).toEqual({ does: "ringed", item: 0, main_back: true });
  });

  test("each press steps, round and round", () => {
    const out = played([["take", 0], ["take", 400], ["take", 1400], ["take", 2400], ["take", 3400]], 3, "one");
    expect(out.slice(1).map((done) => (done.does === "ringed" ? done.item : null))).toEqual([0, 1, 2, 0]);
  });

  test("a rest of three seconds takes what is ringed and shuts the ring", () => {
    expect(played([["take", 0], ["take", 400], ["take", 1400], ["rest", 4400], ["take", 6000]], 3, "one").slice(3)).toEqual([
      { does: "item", item: 1 },
      { does: "main" },
    ]);
    expect(restAfter_ms({ open: { at_item: 0, by: "take" }, last_take: null })).toBe(REST_MS);
  });

  test("where nothing can be ringed a fast double is two presses", () => {
    expect(played([["take", 0], ["take", 300]], 0, "one").at(-1)).toEqual({ does: "main" });
  });
});

describe("a pedal of two keys", () => {
  test("left opens and steps, right takes the ringed one", () => {
    expect(played([["step", 0], ["step", 900], ["take", 1800]], 3, "two")).toEqual([
      { does: "ringed", item: 0, main_back: false },
      { does: "ringed", item: 1, main_back: false },
      { does: "item", item: 1 },
    ]);
  });

  test("two fast presses on the right are two pieces", () => {
    expect(played([["take", 0], ["take", 300]], 3, "two").at(-1)).toEqual({ does: "main" });
  });

  test("a ring left open shuts without taking anything", () => {
    expect(played([["step", 0], ["rest", LEFT_OPEN_MS], ["take", 9000]], 3, "two").slice(1)).toEqual([
      { does: "shut" },
      { does: "main" },
    ]);
  });
});

describe("the key map", () => {
  test("a page-turner's keys are known from the start", () => {
    expect([" ", "Enter", "PageDown", "ArrowRight", "ArrowDown"].map((key) => keyStandsFor(key, {}))).toEqual(
      Array(5).fill("take"),
    );
    expect(["PageUp", "ArrowLeft", "ArrowUp"].map((key) => keyStandsFor(key, {}))).toEqual(Array(3).fill("step"));
  });

  test("a learned key wins, and any key can be learned", () => {
    const learned = learnedKeys({ ArrowRight: "step", b: "take" });
    expect(keyStandsFor("ArrowRight", learned)).toBe("step");
    expect(keyStandsFor("b", learned)).toBe("take");
  });

  test("what is no key of a pedal is left alone", () => {
    expect(keyStandsFor("q", {})).toBeNull();
    expect(learnedKeys(["x"])).toEqual({});
    expect(learnedKeys({ q: "explode" })).toEqual({});
  });
});
