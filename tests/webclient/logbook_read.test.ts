import { whileSame } from "src/logbook/read";
import { expect, test } from "vitest";

test("what is asked twice of the same lists is worked out once, and anew for another list, alike or not", () => {
  let worked = 0;
  const sum = whileSame((of: readonly number[], more: number) => {
    worked += 1;
    return of.reduce((a, b) => a + b, more);
  });
  const list = [1, 2];
  expect([sum(list, 1), sum(list, 1)]).toEqual([4, 4]);
  expect(worked).toBe(1);
  expect([sum([1, 2], 1), sum(list, 2)]).toEqual([4, 5]);
  expect(worked).toBe(3);
});
