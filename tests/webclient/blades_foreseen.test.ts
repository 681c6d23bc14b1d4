import fc from "fast-check";
import { expect, test } from "vitest";
import { advice, bladesNeeded, chanceWithout } from "src/blades/foreseen_grinding_rules";
import { chanceOfLasting, type Law, LEVELS, leftNow, quantilesLeft, readEdge, readLife } from "src/blades/foreseen_rules";
import { chanceDueBy, changeDay, daysFrom, daysUntilOneOf, nextDueDays, outlook, readPace } from "src/care/foreseen_rules";
import { whereReached } from "src/workshop/foreseen_rules";
import { addDays } from "src/language/rules";
import days from "../shared_cases/due_days.json";
import edges from "../shared_cases/edge_life.json";

const lawsOf = (name: string): Law[] =>
  (edges.laws as unknown as Record<string, [number, number, number][]>)[name]?.map(([shape, scale, weight]) => ({ shape, scale, weight })) ?? [];
const paceOf = (name: string | null) => readPace(name === null ? undefined : (days.paces as Record<string, Record<string, number>>)[name]);
const close = (found: readonly number[], expected: readonly number[]): void => {
  expect(found).toHaveLength(expected.length);
  found.forEach((n, k) => expect(Math.abs(n - (expected[k] ?? Number.NaN))).toBeLessThan(1e-4 + 1e-5 * Math.abs(n)));
};

test.each(edges.left.map((each) => [`${each.laws}, ${each.so_far} so far`, each] as const))("pieces left: %s", (_, each) => {
  const laws = lawsOf(each.laws);
  close(quantilesLeft(laws, each.so_far, each.chances), each.left);
  close([chanceOfLasting(laws, each.so_far, each.more)], [each.lasting]);
});

test.each(edges.advice.map((each, k) => [k, each] as const))("what to send, case %i", (_, each) => {
  const { turnaround_days, ...prices } = (edges.grinding as Record<string, { turnaround_days: number; one: number | null; box: number | null; box_of: number }>)[each.grinding] ?? {
    turnaround_days: 0,
    one: null,
    box: null,
    box_of: 1,
  };
  const found = advice(each, prices, { piecesPerEdge: 233.9, perDay: each.per_day, days: turnaround_days });
  const { risk_now, risk_waiting, ...rest } = each.expect;
  expect(found).toMatchObject(rest);
  close([found.risk_now, found.risk_waiting], [risk_now, risk_waiting]);
});

test.each(edges.needed.map((each, k) => [k, each] as const))("blades needed, case %i", (_, each) => {
  const demand = { piecesPerEdge: each.pieces_per_edge, perDay: each.per_day, days: each.turnaround_days };
  expect(bladesNeeded(demand, each.risk)).toBe(each.blades);
  expect(chanceWithout(each.blades, demand)).toBeLessThanOrEqual(each.risk);
});

test.each(days.waits.map((each, k) => [k, each] as const))("the wait, case %i", (_, each) => {
  close(nextDueDays(each.events, each.exposure_days, each.remaining, each.levels), each.days);
});

test.each(days.outlook.map((each, k) => [k, each] as const))("when care is due, case %i", (_, each) => {
  const found = outlook(
    each.pieces_left === null ? null : { left: each.pieces_left, pace: paceOf(each.pace) },
    each.sessions_left === null ? null : { left: each.sessions_left, pace: paceOf(each.sessions_pace) },
    each.days_left,
    each.levels,
  );
  expect(found?.by).toBe(each.expect?.by);
  if (found && each.expect) close(found.days, each.expect.days);
  const pieces = each.pieces_left === null ? null : { left: each.pieces_left, pace: paceOf(each.pace) };
  const sessions = each.sessions_left === null ? null : { left: each.sessions_left, pace: paceOf(each.sessions_pace) };
  each.levels.forEach((level, k) => {
    const on = found?.days[k];
    if (on !== undefined) expect(chanceDueBy(pieces, sessions, each.days_left, on + 1e-6)).toBeGreaterThan(level - 1e-5);
  });
});

test.each(days.ends.map((each) => [each.pace, each] as const))("the day an edge is off, pace %s", (_, each) => {
  const pace = paceOf(each.pace);
  expect(pace).not.toBeNull();
  if (pace) close(daysUntilOneOf(each.left, pace, each.levels), each.days);
});

test.each(days.changes.map((each, k) => [k, each] as const))("the quiet day, case %i", (_, each) => {
  expect(changeDay(each.wanted, each.planned, each.today)).toEqual({ day: each.day, moved: each.moved });
});

test("pieces cut since the slip was made are off what is left, hard cane more of them", () => {
  const life = readLife({ nodes: edges.laws["many edges"] });
  const edge = readEdge({ pieces: 100, life: 1, worn: 100 });
  if (!life || !edge) throw new Error("read");
  const [before = 0] = leftNow(life, edge, 100, 1, [0.5]);
  const [after = 0] = leftNow(life, edge, 130, 1, [0.5]);
  const [hard = 0] = leftNow(life, edge, 130, 1.3, [0.5]);
  expect(before - after).toBeGreaterThan(15);
  expect(before - after).toBeLessThan(30);
  expect(hard).toBeLessThan(after);
});

test("a slip that holds anything else is none", () => {
  for (const body of [undefined, {}, { nodes: "x" }, { nodes: [[1, 2], null, [0, 5, 1]] }]) expect(readLife(body as never)).toBeNull();
  for (const body of [undefined, {}, { pieces: "x", life: 1 }]) expect(readEdge(body as never)).toBeNull();
  for (const value of [undefined, null, [], { events: 0, exposure_days: 1, per_event: 1 }]) expect(readPace(value as never)).toBeNull();
});

test("a range of days is told outwards, on the workshop's calendar", () => {
  expect(daysFrom("2026-11-25", [1.9, 4.5, 9.1])).toEqual({ lower: "2026-11-26", middle: "2026-11-30", upper: "2026-12-05" });
});

test("where a chance reaches a level is found on flat and on steep ones, and from the start where it begins there", () => {
  expect(whereReached((x) => 1 - Math.exp(-x), 0.5, 100)).toBeCloseTo(Math.LN2, 6);
  expect(whereReached((x) => 1 - Math.exp(-x), 0.999, 0.001)).toBeCloseTo(-Math.log(0.001), 3);
  expect(whereReached((x) => 1 / (1 + Math.exp(300 - x)), 0.9, 10)).toBeCloseTo(300 + Math.log(9), 5);
  expect(whereReached((x) => (x < 5 ? 0 : 1), 0.5, 3)).toBeCloseTo(5, 3);
  expect(whereReached(() => 1, 0.5, 3)).toBe(0);
});

const someLaws = fc
  .array(fc.record({ shape: fc.double({ min: 0.6, max: 9, noNaN: true }), scale: fc.double({ min: 40, max: 2000, noNaN: true }), weight: fc.double({ min: 0.01, max: 1, noNaN: true }) }), { minLength: 1, maxLength: 12 })
  .map((laws): Law[] => {
    const total = laws.reduce((sum, { weight }) => sum + weight, 0);
    return laws.map((law) => ({ ...law, weight: law.weight / total }));
  });

test("whatever the laws, what is left lasts with the chance that was asked for, and less of it is surer", () => {
  fc.assert(
    fc.property(someLaws, fc.integer({ min: 0, max: 900 }), (laws, soFar) => {
      const found = quantilesLeft(laws, soFar, LEVELS);
      found.forEach((more, k) => expect(1 - chanceOfLasting(laws, soFar, more)).toBeCloseTo(LEVELS[k] ?? 0, 5));
      expect([...found].sort((a, b) => a - b)).toEqual(found);
    }),
    { numRuns: 60 },
  );
});

test("an edge that has long outlasted a steep law has no pieces left, to the last figure", () => {
  const [shape, scale, soFar] = [7.325831091287243, 40, 844]; // once found: both powers are 5e9 here, their difference 0.05
  const spent = (soFar / scale) ** shape;
  const left = LEVELS.map((chance) => soFar * Math.expm1(Math.log1p(-Math.log1p(-chance) / spent) / shape));
  quantilesLeft([{ shape, scale, weight: 1 }], soFar, LEVELS).forEach((more, k) => expect(more / (left[k] ?? 0)).toBeCloseTo(1, 6));
});

test("waiting for the box is advised only where a blade stays here, and a change is never in front of a batch", () => {
  const few = fc.integer({ min: 0, max: 9 });
  fc.assert(
    fc.property(few, few, few, fc.double({ min: 0, max: 40, noNaN: true }), (blunt, keen, away, perDay) => {
      const found = advice({ blunt, keen, away }, { one: 12, box: 45, box_of: 5 }, { piecesPerEdge: 240, perDay, days: 14 });
      expect([0, blunt]).toContain(found.send);
      if (found.when === "wait") expect(found.risk_waiting).toBeLessThanOrEqual(0.05);
    }),
  );
  const days_on = fc.integer({ min: 0, max: 20 }).map((n) => addDays("2026-11-25", n));
  fc.assert(
    fc.property(days_on, fc.array(days_on, { maxLength: 10 }), (wanted, planned) => {
      const { day } = changeDay(wanted, planned, "2026-11-25");
      expect(planned).not.toContain(day);
      expect(planned).not.toContain(addDays(day, 1));
      expect(day >= "2026-11-25").toBe(true);
    }),
  );
});
