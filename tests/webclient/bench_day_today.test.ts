import { describe, expect, test } from "vitest";
import { type DayFacts, type FirstFacts, firstAsk, nextThing } from "../../webclient/src/bench_day/today_rules";

const quiet: DayFacts = { isInWater: false, isOut: false, session: null };
const day = (part: Partial<DayFacts>): DayFacts => ({ ...quiet, ...part });

describe("the one next thing", () => {
  test("while it soaks the machine is set up", () => {
    expect(nextThing(day({ isInWater: true }))).toBe("set-up");
    expect(nextThing(day({ isInWater: true, session: { cut: 0, checks: 3, left: 6 } }))).toBe("set-up");
  });

  test("all lines looked at, or a piece cut: the bench", () => {
    expect(nextThing(day({ isInWater: true, session: { cut: 0, checks: 9, left: 6 } }))).toBe("bench");
    expect(nextThing(day({ session: { cut: 1, checks: 0, left: null } }))).toBe("bench");
  });

  test("all of the batch cut: the wind down", () => {
    expect(nextThing(day({ session: { cut: 1, checks: 9, left: 0 } }))).toBe("wind-down");
  });

  test("taken out and no session yet: set up", () => {
    expect(nextThing(day({ isOut: true }))).toBe("set-up");
  });

  test("nothing anywhere: soak", () => {
    expect(nextThing(quiet)).toBe("soak");
  });
});

describe("what is asked on the first days", () => {
  const nothing: FirstFacts = { lots: 0, machines: 0, blades: 0, isInWater: false, isAtBench: false, later: [] };

  test("before anything is in the water, nothing", () => {
    expect(firstAsk(nothing)).toBeNull();
  });

  test("the lot while its cane soaks, the machine at the bench, then its blade", () => {
    expect(firstAsk({ ...nothing, isInWater: true })).toBe("lot");
    expect(firstAsk({ ...nothing, isAtBench: true })).toBe("machine");
    expect(firstAsk({ ...nothing, isAtBench: true, machines: 1 })).toBe("blade");
  });

  test("later is later, and something else may be asked meanwhile", () => {
    expect(firstAsk({ ...nothing, isInWater: true, later: ["lot"] })).toBeNull();
    expect(firstAsk({ ...nothing, isInWater: true, isAtBench: true, later: ["machine"] })).toBe("lot");
  });

  test("once it is known it is never asked again", () => {
    expect(firstAsk({ lots: 1, machines: 1, blades: 1, isInWater: true, isAtBench: true, later: [] })).toBeNull();
  });
});
