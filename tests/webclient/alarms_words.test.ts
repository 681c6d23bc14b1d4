import { expect, test } from "vitest";
import { screen_and_locked } from "../../webclient/src/alarms/phone_words";
import { spoken } from "../../webclient/src/alarms/words";

test("what is spoken says how many pieces are ready, and which", () => {
  expect(spoken("First six", 6)).toBe("Six pieces are ready: First six.");
  expect(spoken("The cane", null)).toBe("The cane: ready.");
});

test("a phone that nobody has tried says so, whatever plays on it", () => {
  for (const locked of ["silent", "touch_first", "interrupted", "not_tried"] as const)
    expect(screen_and_locked("rings here", locked, null)).toContain("this phone has not been tried");
  expect(screen_and_locked("rings here", "rings", "2026-11-24T10:00:00.000Z")).not.toContain("not been tried");
});
