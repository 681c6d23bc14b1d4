import { beforeAll, beforeEach, expect, test, vi } from "vitest";
import { piece_next } from "../../webclient/src/bench_day/today_words";
import { locale, timeZone } from "../../webclient/src/language/format";
import * as foreseen from "../../webclient/src/profiling/foreseen_words";
import * as words from "../../webclient/src/profiling/words";

const NOW = Date.UTC(2026, 10, 25, 13, 6);
const HOUR_MS = 3_600_000;

beforeAll(() => {
  locale.value = "en-GB";
  timeZone.value = "Europe/Berlin";
});
beforeEach(() => {
  vi.useFakeTimers({ toFake: ["Date"], now: NOW });
});

test("hours in the water are said as hours, at the bench and while it is paused", () => {
  expect(words.inWater(811)).toBe("13 h 31 min in water");
  expect(words.inWater(31)).toBe("31 min in water");
  expect(words.readyIn("six of lot D", 223.4)).toBe("six of lot D: 3 h 44 min");
});

test("a moment of another day is said with its day", () => {
  const at = NOW + 36.5 * HOUR_MS;
  expect(words.doneBy(at)).toBe("done by Fri 2:36");
  expect(words.doneBy(NOW + HOUR_MS)).toBe("done by 15:06");
  expect(words.jar("A", at)).toBe("jar A, ready at Fri 2:36");
  expect(foreseen.doneAbout(at, true)).toBe("done Fri 2:36");
  expect(words.pieceWas(6, new Date(NOW - 24 * HOUR_MS).toISOString())).toBe("Piece 6, at Tue 14:06, was");
});

test("one piece of a batch is a piece", () => {
  expect(piece_next(1, "K2")).toBe("piece of K2 done");
  expect(piece_next(4, "K2")).toBe("pieces of K2 done");
  expect(piece_next(4, null)).toBe("pieces done");
});
