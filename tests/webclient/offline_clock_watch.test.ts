import { JUMP_MS, jumpOf } from "src/offline/clock_watch";
import { expect, test } from "vitest";

const HOUR = 3_600_000;

test("a clock that was put an hour ahead or back while the page stood open is seen", () => {
  expect(jumpOf(HOUR + 5000, 5000, false)).toBe(HOUR);
  expect(jumpOf(-HOUR + 5000, 5000, false)).toBe(-HOUR);
});

test("the drift of two honest clocks is none", () => {
  expect(jumpOf(5010, 5000, false)).toBeNull();
  expect(jumpOf(5000 + JUMP_MS - 1, 5000, false)).toBeNull();
});

test("a phone that slept is not told that its clock went ahead", () => {
  expect(jumpOf(8 * HOUR, 5000, true)).toBeNull();
});

test("a clock put back is seen even after sleep, for no sleep turns a clock back", () => {
  expect(jumpOf(-HOUR, 5000, true)).toBe(-HOUR - 5000);
});
