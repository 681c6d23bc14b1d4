import "fake-indexeddb/auto";
import { IDBFactory } from "fake-indexeddb";
import { beforeEach, describe, expect, test, vi } from "vitest";
import type { Later } from "src/profiling/Later";
import type { Value } from "src/logbook/model";

let book: typeof import("src/logbook/state");
let orders: typeof import("src/bench_day/later_orders");
let care: typeof import("src/bench_day/care_facts");
let stand: typeof import("src/bench_day/batches_facts");
let facts: typeof import("src/bench_day/records_facts");
let never: typeof import("src/logbook/never_was");
let records: typeof import("src/records/state");

const put = (kind: string, record: string, set: Record<string, Value>): void => void book.logbook.write([{ kind, record, set }]);
const yesterday: Later = { batch: "c1", label: "", lot: "", machine: "m", stage: "profiled", day: "2026-11-24", started: 30, good: 26, second: 0, lostBy: { not_said: 4 }, bladeIn: "k4", atPiece: 12 };
const aside = (): string[] => records.hidden().map((row) => row.id);
const byPieces = (): number | undefined => care.dues.value[0]?.pieces?.left;
const bySessions = (): number | undefined => care.dues.value[0]?.sessions?.left;

/** Three pieces of C1 on blade 3, the second of them measured; before the third, blade 4 went in. */
function cutThree(): void {
  put("session", "s", { machine: "m", began: "2026-11-25T08:00:00.000Z", batches: ["c1"] });
  for (const n of [1, 2, 3])
    put("piece", `p${n}`, { session: "s", number: n, batch: "c1", machine: "m", at: `2026-11-25T08:${n}0:00.000Z`, [`outcome/${n}`]: "good" });
  put("reading", "r", { session: "s", machine: "m", piece: "p2", point: "middle", value_mm: 0.5, at: "2026-11-25T08:21:00.000Z" });
  put("blade_move", "v3", { blade: "k4", machine: "m", what: "fitted", at: "2026-11-25T08:30:00.000Z", inside_record: "s", inside_piece: 3 });
}

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
  facts = await import("src/bench_day/records_facts");
  never = await import("src/logbook/never_was");
  records = await import("src/records/state");
  const language = await import("src/language/format");
  language.timeZone.value = "Europe/Berlin";
  put("machine", "m", { name: "Machine 1", does: "profile" });
  put("blade", "k3", { label: "3" });
  put("blade", "k4", { label: "4" });
  put("blade_move", "v1", { blade: "k3", machine: "m", what: "fitted", at: "2026-11-02T09:00:00.000Z" });
  put("care_task", "t", { what: "oil", machine: "m", every_pieces: 100, every_sessions: 5, since: "2026-11-01T09:00:00.000Z" });
  put("lot", "C", { label: "C", comes: "gouged" });
  put("batch", "c1", { label: "C1", lot: "C", pieces: 30, planned_day: "2026-11-24" });
});

describe("a day written up that never was", () => {
  const tally = (): string => book.logbook.rows("tally")[0]?.id ?? "";

  test("takes the blade change along that was written in with it", () => {
    book.logbook.write(orders.writtenUp(yesterday));
    never.neverWas("tally", tally());
    expect([care.piecesOn("k3"), care.piecesOn("k4")]).toEqual([0, 0]);
    expect(care.timeline.value.blades.get("k4")?.life ?? 0).toBe(0);
    expect(stand.factsOf("c1")?.profiled).toBe(0);
  });

  test("comes back with it, when it is shown again", () => {
    book.logbook.write(orders.writtenUp(yesterday));
    const id = tally();
    never.neverWas("tally", id);
    expect(aside()).toEqual([id]);
    never.showAgain("tally", id);
    expect([care.piecesOn("k3"), care.piecesOn("k4")]).toEqual([11, 19]);
    expect(aside()).toEqual([]);
  });

  test("does not bring back a blade change that had been taken back before", () => {
    book.logbook.write(orders.writtenUp(yesterday));
    const move = book.logbook.rows("blade_move").find((row) => row.fields["inside_record"])?.id ?? "";
    never.neverWas("blade_move", move);
    never.neverWas("tally", tally());
    never.showAgain("tally", aside().find((id) => id !== move) ?? "");
    expect([care.piecesOn("k3"), care.piecesOn("k4")]).toEqual([30, 0]);
    expect(aside()).toEqual([move]);
  });
});

describe("a session that never was", () => {
  test("is out of every count with its pieces, its readings and the blade change within it", () => {
    cutThree();
    expect([care.piecesOn("k3"), care.piecesOn("k4"), byPieces(), bySessions()]).toEqual([2, 1, 97, 4]);
    never.neverWas("session", "s");
    expect([care.piecesOn("k3"), care.piecesOn("k4"), byPieces(), bySessions()]).toEqual([0, 0, 100, 5]);
    expect(stand.factsOf("c1")).toMatchObject({ profiled: 0, begun: false, left: 30 });
    expect(facts.lines.value.work).toEqual([]);
    expect(facts.lines.value.pieces).toEqual([]);
    expect(book.logbook.rows("reading")).toEqual([]);
  });

  test("stands in Set aside as one, and not once for each piece", () => {
    cutThree();
    never.neverWas("session", "s");
    expect(aside()).toEqual(["s"]);
  });

  test("comes back with all that was hidden with it, and with nothing that was removed before", () => {
    cutThree();
    put("piece", "p1", { removed: true });
    never.neverWas("session", "s");
    never.showAgain("session", "s");
    expect(book.logbook.rows("piece").map(({ id }) => id)).toEqual(["p2", "p3"]);
    expect([care.piecesOn("k3"), care.piecesOn("k4")]).toEqual([1, 1]);
    expect(book.logbook.rows("reading")).toHaveLength(1);
    expect(aside()).toEqual(["p1"]);
  });

  test("shown again on a phone that does not hold its pieces leaves them in Set aside, to be shown one by one", () => {
    cutThree();
    never.neverWas("session", "s");
    put("session", "s", { removed: false });
    expect(aside().sort()).toEqual(["p1", "p2", "p3", "r", "v3"]);
  });
});

describe("a blade", () => {
  test("that was typed wrong goes with its moves, and the one before it is in the machine again", () => {
    put("blade", "k9", { label: "9" });
    put("blade_move", "v9", { blade: "k9", machine: "m", what: "fitted", at: "2026-11-25T07:00:00.000Z", took_out: "k3" });
    put("setting", "e9", { machine: "m", blade: "k9", projection_mm: 0.05, at: "2026-11-25T08:00:00.000Z" });
    never.neverWas("blade", "k9");
    expect(care.blades.value.map(({ label }) => label)).toEqual(["3", "4"]);
    expect(care.timeline.value.blades.get("k3")?.machine).toBe("m");
    expect(book.logbook.rows("setting")).toHaveLength(1);
    never.showAgain("blade", "k9");
    expect(care.timeline.value.blades.get("k9")?.machine).toBe("m");
  });

  test("gets another label; one that another blade has is warned of, its own is not", async () => {
    const blades = await import("src/blades/state");
    expect(blades.taken("4", "k3")).toBe("Another blade has this label.");
    expect([blades.taken("3", "k3"), blades.taken("8", "k3")]).toEqual([undefined, undefined]);
    expect(blades.taken("3")).toBe("Another blade has this label.");
    blades.rename("k3", "8");
    expect(care.labelOf("k3")).toBe("8");
  });
});
