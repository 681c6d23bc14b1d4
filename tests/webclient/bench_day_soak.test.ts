import "fake-indexeddb/auto";
import { expect, test } from "vitest";
import type { Batch } from "../../webclient/src/batches/model";
import { batchesToSoak, dueNext, lotAtHand, outOfJar, standing } from "../../webclient/src/bench_day/soak_facts";
import { jarsNext } from "../../webclient/src/bench_day/soak_page";
import { logbook, newId } from "../../webclient/src/logbook/state";
import type { Soak } from "../../webclient/src/soak/model";

const TODAY = "2026-11-25";
const batch = (id: string, more: Partial<Batch> = {}): Batch => ({
  id, label: id, lot: null, pieces: 24, wantedGood: null, plannedDay: TODAY, machine: null, stages: null, firstStage: null, note: null, closed: false, ...more,
});
const soaked = (of: string, pieces: number): Soak => ({
  id: `soak-${of}`, purpose: "profile", pieces, batch: of, lot: null, jar: "1", water: "warm", water_c: 38, soak_s: 1800,
  put_in: "2026-11-25T12:36:00.000Z", put_in_skew_ms: null, taken_out: "2026-11-25T13:06:00.000Z", taken_out_skew_ms: null,
  mark: "good", drying_since: null, dried_at: null, silenced_at: null, rings_again_at: null, next_silenced_at: null,
  next_rings_again_at: null, run: null, of_pieces: null, every_s: null, note: null,
});
const nextUp = (batches: Batch[], soaks: Soak[], toCut: Record<string, number>): { id: string; left: number | null } | null => {
  const { next } = batchesToSoak(batches, soaks, TODAY, (one) => toCut[one.id] ?? 0);
  return next && { id: next.id, left: next.left };
};

test("a batch that is profiled already is never offered to the water, whatever was soaked of it", () => {
  expect(nextUp([batch("D1"), batch("E1", { plannedDay: null })], [], { D1: 0, E1: 24 })).toEqual({ id: "E1", left: 24 });
  expect(nextUp([batch("D1", { pieces: null })], [], { D1: 0 })).toBeNull();
});

test("what is cut without a soak written down needs no water; what was soaked needs none either", () => {
  expect(nextUp([batch("D1")], [], { D1: 9 })).toEqual({ id: "D1", left: 9 });
  expect(nextUp([batch("D1")], [soaked("D1", 18)], { D1: 24 })).toEqual({ id: "D1", left: 6 });
  expect(nextUp([batch("D1")], [soaked("D1", 24)], { D1: 24 })).toBeNull();
});

test("cane is out and no group is due: the jars lead to the set-up, not to more water", () => {
  expect(jarsNext([], null, 0, true).label).toBe("Set up");
  expect(jarsNext([], null, 0, false).label).toBe("Put more in");
  expect(jarsNext([], { at: -1, pieces: 6 }, 0, true).label).toMatch(/^Put in/);
});

test("what is ready comes out before the group that is due goes in, and before either there is nothing to do", () => {
  const wet = { ...soaked("D1", 6), taken_out: null };
  const group = { at: Date.parse("2026-11-25T13:00:00.000Z"), pieces: 4 };
  const due = (clock: string) => {
    const now = Date.parse(`2026-11-25T${clock}:00.000Z`);
    return dueNext([standing(wet, now)], group, now)?.label ?? null;
  };
  expect([due("13:06"), due("13:00"), due("12:59")]).toEqual(["Take out six", "Put in four", null]);
});

test("a jar is free when its soak is taken out, but not while another lies in it", () => {
  const now = Date.parse("2026-11-25T13:06:00.000Z");
  const [one, other] = ["1", "2"].map((id) => standing({ ...soaked("D1", 6), id, taken_out: null }, now));
  if (!one || !other) throw new Error("two");
  expect(outOfJar(one, [one]).sub).toMatch(/, jar 1 is free then$/);
  expect(outOfJar(one, [one, other]).sub).not.toMatch(/free/);
});

test("the group that is due says its lot", () => {
  const lot = newId();
  logbook.write([{ kind: "lot", record: lot, set: { label: "D" } }]);
  const due = (of: string | null) => dueNext([], { at: 0, pieces: 6, row: [{ ...soaked("D1", 6), lot: of }] }, 1)?.sub;
  expect(due(lot)).toMatch(/^due at .*, lot D$/);
  expect(due(null)).toMatch(/^due at [^,]*$/);
});

test("a batch that is begun at the bench is of the lot that went into water last, not of one soaked days ago", () => {
  const at = Date.parse("2026-11-25T13:30:00.000Z");
  const all = [{ ...soaked("A1", 6), lot: "a" }, { ...soaked("D1", 6), lot: "d" }, { ...soaked("D1", 6), purpose: "shape" as const, lot: "x" }];
  expect(lotAtHand(all, at)).toBe("d");
  expect(lotAtHand([...all, { ...soaked("E1", 6), lot: null }], at)).toBeNull();
  expect(lotAtHand(all, at + 2 * 86_400_000)).toBeNull();
});
