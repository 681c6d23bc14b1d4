import { describe, expect, test } from "vitest";
import { readTally } from "../../webclient/src/batches/model";
import { lostOf } from "../../webclient/src/batches/rules";
import type { Row, Value } from "../../webclient/src/logbook/model";
import { type Piece, readPiece, readSession } from "../../webclient/src/profiling/model";
import { counts, doneOf } from "../../webclient/src/profiling/rules";
import table from "../shared_cases/counting.json";

interface Recorded {
  kind: string;
  id: string;
  fields: Record<string, Value>;
  when?: Record<string, string>;
}
interface Expected {
  batches?: Record<string, Record<string, Counted>>;
  sessions?: number;
}
type Counted = { good: number; second: number; lost: number };
const cases = table.cases as unknown as { name: string; records: Recorded[]; expect: Expected }[];

const asRow = (record: Recorded): Row => ({
  kind: record.kind,
  id: record.id,
  fields: Object.fromEntries(
    Object.entries(record.fields).map(([name, value]) => [
      name,
      { value, change: name.split("/")[1] ?? "c", seq: 1, when: record.when?.[name] ?? "2026-11-20T18:00:00.000Z", back: false, saw: null },
    ]),
  ),
});
const rowsOf = (records: Recorded[], kind: string): Row[] =>
  records.filter((record) => record.kind === kind && record.fields["removed"] !== true).map(asRow);

/** Every batch with a count, every stage of it with one. */
function batchesOf(records: Recorded[]): Record<string, Record<string, Counted>> {
  const all: Record<string, Record<string, Counted>> = {};
  const add = (batch: string | null, stage: string | null, more: Counted): void => {
    if (!batch || !stage || more.good + more.second + more.lost === 0) return;
    const stages = (all[batch] ??= {});
    const one = (stages[stage] ??= { good: 0, second: 0, lost: 0 });
    one.good += more.good;
    one.second += more.second;
    one.lost += more.lost;
  };
  for (const piece of rowsOf(records, "piece").map((row): Piece => readPiece(row))) {
    const { good, second, lost } = doneOf([piece]);
    add(piece.batch, "profiled", { good, second, lost });
  }
  for (const tally of rowsOf(records, "tally").map(readTally)) add(tally.batch, tally.stage, { good: tally.good, second: tally.second, lost: lostOf(tally) });
  return all;
}

describe("both sides count batches alike:", () => {
  const told = cases.filter((one) => one.expect.batches);
  test("there are cases", () => expect(told.length).toBeGreaterThan(8));
  test.each(told.map((one) => [one.name, one] as const))("%s", (_, one) => expect(batchesOf(one.records)).toEqual(one.expect.batches));
});

describe("both sides count sessions alike:", () => {
  const told = cases.filter((one) => one.expect.sessions !== undefined);
  test("there are cases", () => expect(told.length).toBeGreaterThan(1));
  test.each(told.map((one) => [one.name, one] as const))("%s", (_, one) =>
    expect(counts(rowsOf(one.records, "session").map(readSession))).toHaveLength(one.expect.sessions ?? -1));
});
