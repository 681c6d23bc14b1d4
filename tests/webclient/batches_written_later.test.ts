import "fake-indexeddb/auto";
import { IDBFactory } from "fake-indexeddb";
import { beforeEach, describe, expect, test, vi } from "vitest";
import type { Later } from "src/profiling/Later";
import type { Value } from "src/logbook/model";

let book: typeof import("src/logbook/state");
let orders: typeof import("src/bench_day/later_orders");
let care: typeof import("src/bench_day/care_facts");
let stand: typeof import("src/bench_day/batches_facts");

const put = (kind: string, record: string, set: Record<string, Value>): void => void book.logbook.write([{ kind, record, set }]);
const yesterday: Later = { batch: "c1", label: "", lot: "", machine: "m", stage: "profiled", day: "2026-11-24", started: 30, good: 26, second: 0, lostBy: { not_said: 4 }, bladeIn: null, atPiece: 1 };

beforeEach(async () => {
  vi.useFakeTimers({ toFake: ["Date"] });
  vi.setSystemTime(Date.UTC(2026, 10, 25, 9, 0));
  vi.resetModules();
  globalThis.indexedDB = new IDBFactory();
  book = await import("src/logbook/state");
  await book.logbook.open();
  orders = await import("src/bench_day/later_orders");
  care = await import("src/bench_day/care_facts");
  stand = await import("src/bench_day/batches_facts");
  const language = await import("src/language/format");
  language.timeZone.value = "Europe/Berlin";
  put("machine", "m", { name: "Machine 1", does: "profile" });
  put("blade", "k3", { label: "3" });
  put("blade", "k4", { label: "4" });
  put("blade_move", "v1", { blade: "k3", machine: "m", what: "fitted", at: "2026-11-02T09:00:00.000Z" });
  put("lot", "C", { label: "C", comes: "gouged" });
  put("batch", "c1", { label: "C1", lot: "C", pieces: 30, planned_day: "2026-11-24" });
});

const write = (later: Later): void => void book.logbook.write(orders.writtenUp(later));

describe("yesterday's thirty, written up today", () => {
  test("count on the edge of that day and in their batch, at noon of the workshop's day", () => {
    write(yesterday);
    expect(care.piecesOn("k3")).toBe(30);
    expect(stand.factsOf("c1")?.stands.next).toMatchObject({ stage: "shaped", pieces: 26 });
    expect(book.logbook.rows("tally")[0]?.fields["at"]?.value).toBe("2026-11-24T11:00:00.000Z");
  });
  test("stay with the old edge when the blade was changed after noon, and go to none of the new one's", () => {
    put("blade_move", "v2", { blade: "k4", machine: "m", what: "fitted", at: "2026-11-24T16:10:00.000Z" });
    write(yesterday);
    expect([care.piecesOn("k3"), care.piecesOn("k4")]).toEqual([30, 0]);
  });
  test("with the blade changed at piece 12: eleven stay, nineteen move, and no other count does", () => {
    put("tally", "before", { stage: "profiled", machine: "m", batch: "x", at: "2026-11-20T11:00:00.000Z", started: 25, good: 25 });
    write({ ...yesterday, bladeIn: "k4", atPiece: 12 });
    expect([care.piecesOn("k3"), care.piecesOn("k4")]).toEqual([25 + 11, 19]);
    expect(stand.factsOf("c1")?.stands.next).toMatchObject({ stage: "shaped", pieces: 26 });
  });
  test("of a lot that had no batch make one of their own", () => {
    write({ ...yesterday, batch: "lot:C" });
    const made = stand.allBatches.value.find((one) => one.batch.id !== "c1");
    expect(made).toMatchObject({ label: "C2", profiled: 30, left: 0 });
    expect(stand.factsOf("c1")?.stands.next).toMatchObject({ stage: "profiled", pieces: 30 });
  });
  test("of a lot that had no batch may have a label of their own", () => {
    write({ ...yesterday, batch: "lot:C", label: "C bag 7" });
    expect(stand.allBatches.value.map((one) => [one.label, one.lot?.id, one.profiled])).toContainEqual(["C bag 7", "C", 30]);
  });
  test("in a workshop that knew neither make lot and batch; of no name at all they are of no batch", () => {
    write({ ...yesterday, batch: "new", label: "K1", lot: "K" });
    expect(stand.allBatches.value.map((one) => [one.label, one.lot?.label, one.profiled])).toContainEqual(["K1", "K", 30]);
    write({ ...yesterday, batch: "new", lot: "K" });
    expect(stand.allBatches.value.map((one) => [one.label, one.lot?.label, one.profiled])).toContainEqual(["K2", "K", 30]);
    expect(book.logbook.rows("lot")).toHaveLength(2);
    write({ ...yesterday, batch: "new" });
    expect(book.logbook.rows("tally").filter((row) => row.fields["batch"]?.value === null)).toHaveLength(1);
    expect(stand.allBatches.value).toHaveLength(3);
  });
  test("count on the machine that was said, and on the blade in it", () => {
    put("machine", "m2", { name: "Door machine", does: "profile" });
    put("blade_move", "v2", { blade: "k4", machine: "m2", what: "fitted", at: "2026-11-02T09:00:00.000Z" });
    write({ ...yesterday, machine: "m2" });
    expect([care.piecesOn("k3"), care.piecesOn("k4")]).toEqual([0, 30]);
  });
  test("taken back leave nothing behind", async () => {
    const { takeBackWritten } = await import("src/batches/state");
    const edits = orders.writtenUp({ ...yesterday, bladeIn: "k4", atPiece: 12 });
    book.logbook.write(edits);
    takeBackWritten(edits);
    expect([care.piecesOn("k3"), care.piecesOn("k4")]).toEqual([0, 0]);
    expect(stand.factsOf("c1")?.stands.next).toMatchObject({ stage: "profiled", pieces: 30 });
  });
});

test("a tally of another stage moves the batch on and no edge", () => {
  write(yesterday);
  write({ ...yesterday, stage: "shaped", started: 26, lostBy: { twisted: 1 } });
  expect(care.piecesOn("k3")).toBe(30);
  expect(stand.factsOf("c1")?.stands.next).toMatchObject({ stage: "formed", pieces: 25 });
});

describe("an opening count", () => {
  test("counts on the edge that is in, and in no batch", () => {
    orders.writeOpening("k3", 150);
    expect(care.piecesOn("k3")).toBe(150);
    expect(stand.factsOf("c1")?.profiled).toBe(0);
  });
  test("said again replaces what was said, and is gone when it did not happen", () => {
    write({ ...yesterday, day: "2026-11-25", started: 5, lostBy: {} });
    orders.writeOpening("k3", 150);
    orders.writeOpening("k3", 120);
    expect([care.piecesOn("k3"), orders.openingOf("k3")]).toEqual([125, 120]);
    orders.writeOpening("k3", 0);
    expect([care.piecesOn("k3"), orders.openingOf("k3")]).toEqual([5, 0]);
    expect(book.logbook.rows("tally")).toHaveLength(1);
  });
  test("that two phones wrote is one after it is said once more", () => {
    for (const record of ["o1", "o2"])
      put("tally", record, { blade: "k3", machine: "m", at: "2026-11-25T08:00:00.000Z", opening: true, stage: "profiled", started: 150 });
    expect(orders.openingOf("k3")).toBe(300);
    orders.writeOpening("k3", 150);
    expect([care.piecesOn("k3"), book.logbook.rows("tally").length]).toEqual([150, 1]);
  });
  test("of an edge ground since stays with that edge", () => {
    orders.writeOpening("k3", 150);
    put("blade_move", "v2", { blade: "k3", machine: null, what: "ground", at: "2026-11-25T09:30:00.000Z" });
    expect(orders.openingOf("k3")).toBe(0);
    vi.setSystemTime(Date.UTC(2026, 10, 25, 10, 0));
    orders.writeOpening("k3", 20);
    expect([orders.openingOf("k3"), book.logbook.rows("tally").length]).toEqual([20, 2]);
  });
});
