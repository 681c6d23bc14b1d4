import "fake-indexeddb/auto";
import { expect, test, vi } from "vitest";
import { WORKSHOP } from "src/logbook/ids";
import { logbook } from "src/logbook/state";
import { habit, lastOrder, soaks, startFirst } from "src/soak/state";

const workshop = () => logbook.row("workshop", WORKSHOP)?.fields;

test("the first soak taken back takes its habit with it, and leaves the workshop", async () => {
  await logbook.open();
  startFirst("the first", "cold");
  expect([soaks.value.length, habit.value.water]).toEqual([1, "cold"]);
  lastOrder.value?.takeBack();
  await vi.waitFor(() => expect(soaks.value).toEqual([]));
  expect(habit.value.water).toBeNull();
  expect(workshop()?.["removed"]).toBeUndefined();
});

test("a soak of which nobody said how long takes the maker's own time, else common practice", () => {
  logbook.write([{ kind: "soak", record: "without", set: { water: "warm", put_in: "2026-11-25T10:00:00.000Z" } }]);
  const without = () => soaks.value.find(({ id }) => id === "without")?.soak_s;
  expect(without()).toBe(1800); // common practice, no source
  logbook.write([{ kind: "workshop", record: WORKSHOP, set: { soak_warm_s: 2400 } }]);
  expect(without()).toBe(2400);
});
