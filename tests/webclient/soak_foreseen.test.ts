import fc from "fast-check";
import { expect, test } from "vitest";
import type { Values } from "../../webclient/src/logbook/model";
import {
  chances,
  counted,
  effective_s,
  type Foreseen,
  foresee,
  normalBelow,
  pointsOf,
  timeFor,
} from "../../webclient/src/soak/foreseen_rules";
import { every_s, nextGroupIn, type Pace, plan, type Wish } from "../../webclient/src/soak/foreseen_stagger_rules";
import soakCases from "../shared_cases/foreseen_soak.json";
import staggered from "../shared_cases/staggered.json";

interface Asked {
  poured_c: number;
  room_c: number | null;
  thickness_mm: number | null;
  expect: Record<keyof Foreseen, number | null> | null;
}

const cases = soakCases.cases as unknown as { name: string; body: Values; asked: Asked[] }[];
const bodies = cases.filter((one) => one.asked[0]?.expect).map((one) => one.body);

test.each(cases)("as the server reads it: $name", ({ body, asked }) => {
  for (const { poured_c, room_c, thickness_mm, expect: wanted } of asked) {
    const found = foresee(body, poured_c, room_c, thickness_mm);
    if (wanted === null || found === null) {
      expect(found).toBe(wanted);
      continue;
    }
    for (const name of Object.keys(wanted) as (keyof Foreseen)[]) {
      const [mine, theirs] = [found[name], wanted[name]];
      if (mine === null || theirs === null) expect(mine).toBe(theirs);
      else expect(Math.abs(mine - theirs)).toBeLessThan(0.05);
    }
  }
});

const rounded = (told: object): object =>
  Object.fromEntries(Object.entries(told).map(([name, n]) => [name, Math.round(n as number) + 0]));

test.each(staggered.plans as unknown as { name: string; wish: Wish; expect: object }[])(
  "planned as the server plans it: $name",
  ({ wish, expect: wanted }) => {
    const { groups, changes } = plan(wish);
    expect({
      groups: groups.map(rounded),
      changes: changes.map(({ what, number }) => ({ what, number: Math.round(number * 100) / 100 })),
    }).toEqual(wanted);
  },
);

interface Next {
  name: string;
  asked: { ahead: number; pieces: number; pace: Pace; ready_s: number; too_soft_s: number; out_together?: boolean; starts_in_s?: number };
  expect: { put_in_s: number; kept: boolean };
}

test.each(staggered.next as Next[])("the next group as the server says: $name", ({ asked, expect: wanted }) => {
  const found = nextGroupIn(asked.ahead, asked.pieces, asked.pace, asked.ready_s, asked.too_soft_s, asked.out_together, asked.starts_in_s);
  expect({ put_in_s: Math.round(found.put_in_s), kept: found.kept }).toEqual(wanted);
});

const body = fc.constantFrom(...bodies);
const degrees = fc.double({ min: 3, max: 59, noNaN: true });
const room = fc.option(fc.double({ min: 5, max: 32, noNaN: true }), { nil: null });

test("whatever the water, ready lies in its range, and warmer water never takes longer", () => {
  fc.assert(
    fc.property(body, degrees, degrees, room, (slip, a, b, room_c) => {
      const [cold, warm] = [Math.min(a, b), Math.max(a, b)].map((c) => foresee(slip, c, room_c, null));
      if (!cold || !warm) return false;
      return (
        warm.lower_s > 0 &&
        warm.lower_s < warm.ready_s &&
        warm.ready_s < warm.upper_s &&
        Number.isFinite(warm.upper_s) &&
        cold.ready_s >= warm.ready_s - 1e-6 &&
        (warm.too_soft_s === null || warm.too_soft_s > warm.ready_s)
      );
    }),
  );
});

test("the time for an effective time leads back to it", () => {
  fc.assert(
    fc.property(fc.double({ min: 0, max: 60_000, noNaN: true }), degrees, room, (time_s, poured_c, room_c) => {
      const jar = { poured_c, room_c, cooling_s: 1500 };
      const back = timeFor(effective_s(time_s, jar, 25, 45), jar, 25, 45);
      return Math.abs(back - time_s) < 1e-3 + 1e-6 * time_s;
    }),
  );
});

const wish: fc.Arbitrary<Wish> = fc
  .record({
    pieces: fc.integer({ min: 1, max: 60 }),
    usual_s: fc.double({ min: 40, max: 600, noNaN: true }),
    quick: fc.double({ min: 0.6, max: 1, noNaN: true }),
    slow: fc.double({ min: 1, max: 1.6, noNaN: true }),
    ready_s: fc.double({ min: 300, max: 40_000, noNaN: true }),
    soft: fc.double({ min: 1, max: 4, noNaN: true }),
    jars: fc.integer({ min: 1, max: 6 }),
    start_s: fc.option(fc.double({ min: 0, max: 50_000, noNaN: true }), { nil: null }),
    each: fc.option(fc.integer({ min: 1, max: 12 }), { nil: null }),
    out_together: fc.boolean(),
  })
  .map(({ usual_s, quick, slow, soft, ...rest }) => ({
    ...rest,
    pace: { usual_s, quick_s: usual_s * quick, slow_s: usual_s * slow },
    too_soft_s: rest.ready_s * soft,
  }));

test("no piece of a plan is late or over-soaked, whatever the pace within its range", () => {
  fc.assert(
    fc.property(wish, (of) => {
      const { groups } = plan(of);
      const alone = groups.length === 1;
      const [quick, slow] = alone
        ? [1, 1]
        : [of.pace.quick_s / of.pace.usual_s, of.pace.slow_s / of.pace.usual_s];
      return groups.every(({ put_in_s, first_cut_s, pieces }) => {
        const lead = first_cut_s - put_in_s;
        return (
          lead * quick >= of.ready_s * (1 - 1e-9) &&
          lead * slow + (of.out_together ? 0 : pieces - 1) * of.pace.slow_s <= of.too_soft_s * (1 + 1e-6) &&
          put_in_s >= -1e-6 * of.pace.usual_s
        );
      });
    }),
  );
});

test("a plan puts in all pieces at even times, or says what would make it possible and is right", () => {
  fc.assert(
    fc.property(wish, (of) => {
      const { groups, changes } = plan(of);
      if (groups.length > 0) {
        const step = every_s(groups);
        const even = groups
          .slice(1)
          .every((group, i) => Math.abs(group.put_in_s - (groups[i]?.put_in_s ?? 0) - (step ?? 0)) < 1e-5 * (step ?? 1));
        return even && groups.reduce((sum, group) => sum + group.pieces, 0) === of.pieces;
      }
      return changes.every(({ what, number }) => {
        const other =
          what === "more_jars"
            ? { jars: number }
            : what === "start_later"
              ? { start_s: (of.start_s ?? 0) + number }
              : what === "colder_water"
                ? { ready_s: of.ready_s * number, too_soft_s: of.too_soft_s * number }
                : { each: number };
        return plan({ ...of, ...other }).groups.length > 0;
      });
    }),
  );
});

test("odd values in a slip break nothing", () => {
  const odd: Values = { points: [[1, 2], 7, [30, 38, "good", 2]], marks: "many", waters: [], wanting: null };
  expect(foresee(odd, 38, 20, null)).toBeNull();
  expect(counted(odd)).toEqual({ good: 0, still_hard: 0, too_soft: 0, all: 0, wanting: 8 });
  expect(pointsOf(odd)).toEqual([{ minutes: 30, poured_c: 38, mark: "good", times: 2 }]);
});

test("the curve is half way up at the usual time and rises", () => {
  const slip = bodies[0] ?? {};
  const ready_s = foresee(slip, 38, 20, null)?.ready_s ?? 0;
  expect(chances(slip, ready_s, 38, 20).ready).toBeCloseTo(0.5, 3);
  expect(chances(slip, 2 * ready_s, 38, 20).ready).toBeGreaterThan(chances(slip, ready_s, 38, 20).ready);
  expect(normalBelow(1.959963985)).toBeCloseTo(0.975, 6); // of any table of the normal distribution
});
