import fc from "fast-check";
import { waitAfter } from "src/exchange/backoff";
import { expect, test } from "vitest";

test("the wait doubles with each failure, up to a minute", () => {
  const waits = [1, 2, 3, 7, 8, 50].map((failures) => waitAfter(failures, true, 0.5));
  expect(waits).toEqual([1000, 2000, 4000, 60_000, 60_000, 60_000]);
});

test("phones that failed together do not all ask again together", () => {
  expect(waitAfter(4, true, 0)).toBe(4000);
  expect(waitAfter(4, true, 0.999)).toBeGreaterThan(11_000);
});

test("a page that is not seen tries at most once a minute", () => {
  fc.assert(
    fc.property(fc.integer({ min: 1, max: 1000 }), fc.double({ min: 0, max: 1, noNaN: true }), (failures, chance) => {
      expect(waitAfter(failures, false, chance)).toBeGreaterThanOrEqual(60_000);
    }),
  );
});
