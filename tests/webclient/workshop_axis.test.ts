import fc from "fast-check";
import { expect, test } from "vitest";
import { along, ticksOf } from "src/workshop/evidence/axis";

test("marks are round numbers within the axis", () => {
  expect(ticksOf({ label: "", from: 0, to: 100 })).toEqual([0, 20, 40, 60, 80, 100]);
  expect(ticksOf({ label: "", from: 0.31, to: 0.52 })).toEqual([0.35, 0.4, 0.45, 0.5]);
  expect(ticksOf({ label: "", from: 30, to: 600, isLog: true })).toEqual([50, 100, 200, 500]);
});

test("every axis has a few marks, all of them on it", () => {
  const number = fc.double({ min: -1e6, max: 1e6, noNaN: true });
  fc.assert(
    fc.property(number, fc.double({ min: 0.001, max: 1e6, noNaN: true }), (from, length) => {
      const axis = { label: "", from, to: from + length };
      const ticks = ticksOf(axis);
      expect(ticks.length).toBeLessThanOrEqual(11);
      for (const tick of ticks) {
        expect(along(axis, tick)).toBeGreaterThan(-1e-6);
        expect(along(axis, tick)).toBeLessThan(1 + 1e-6);
      }
    }),
  );
});

test("the two ends of an axis are 0 and 1, straight or in powers of ten", () => {
  for (const isLog of [false, true]) {
    const axis = { label: "", from: 10, to: 1000, isLog };
    expect([along(axis, 10), along(axis, 1000)]).toEqual([0, 1]);
  }
  expect(along({ label: "", from: 10, to: 1000, isLog: true }, 100)).toBeCloseTo(0.5);
  expect(along({ label: "", from: 3, to: 3 }, 3)).toBe(0.5);
});
