import { expect, test } from "vitest";
import { type Ending, MORE_MS, nextRing, promised, ringing, RINGS_FOR_MS } from "../../webclient/src/alarms/rules";

const END = Date.parse("2026-11-25T14:06:00.000Z");
const ending = (part: Partial<Ending> = {}): Ending => ({ id: "a", at: END, silenced: false, again_at: null, ...part });

test("it rings at its end and not a second before", () => {
  expect(ringing([ending()], END - 1000)).toEqual([]);
  expect(ringing([ending()], END).map((each) => each.id)).toEqual(["a"]);
});

test("silenced is silent", () => {
  expect(ringing([ending({ silenced: true })], END + 1000)).toEqual([]);
});

test("five minutes more rings again, once they have gone by", () => {
  const again = ending({ silenced: true, again_at: END + 20_000 + MORE_MS });
  expect(ringing([again], END + 60_000)).toEqual([]);
  expect(ringing([again], END + 20_000 + MORE_MS)).toHaveLength(1);
});

test("who comes back hours later is not rung at, but reads how long ago it was", () => {
  expect(ringing([ending()], END + RINGS_FOR_MS)).toEqual([]);
});

test("of two that ring the earlier end stands first", () => {
  const two = [ending({ id: "late", at: END + 1000 }), ending({ id: "early" })];
  expect(ringing(two, END + 2000).map((each) => each.id)).toEqual(["early", "late"]);
});

test("the screen is kept awake for the next ring only", () => {
  expect(nextRing([ending(), ending({ id: "b", at: END + 60_000 })], END - 1000)).toBe(END);
  expect(nextRing([ending()], END + 1000)).toBeNull();
  expect(nextRing([ending({ silenced: true })], END - 1000)).toBeNull();
  expect(nextRing([ending({ silenced: true, again_at: END + 5000 })], END)).toBe(END + 5000);
});

test("the line promises a ring only when sound works, a lit screen only while it is held", () => {
  expect(promised("ready", "held")).toEqual({ rings: "rings_here", stays_lit: true });
  expect(promised("locked", "refused")).toEqual({ rings: "touch_first", stays_lit: false });
  expect(promised("missing", "asked")).toEqual({ rings: "silent", stays_lit: false });
});
