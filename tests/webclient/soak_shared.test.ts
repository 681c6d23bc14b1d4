import { expect, test } from "vitest";
import type { Row, Value } from "../../webclient/src/logbook/model";
import { readSoak } from "../../webclient/src/soak/model";
import { readyAt } from "../../webclient/src/soak/rules";
import counting from "../shared_cases/counting.json";

interface Case {
  name: string;
  records: { kind: string; id: string; fields: Record<string, Value> }[];
  expect: { soaks?: Record<string, { ready_at: string | null }> };
}

function row(record: Case["records"][number]): Row {
  const field = (value: Value) => ({ value, change: "c", seq: 1, when: "2026-11-20T12:00:00.000Z", back: false, saw: null });
  return { kind: record.kind, id: record.id, fields: Object.fromEntries(Object.entries(record.fields).map(([name, value]) => [name, field(value)])) };
}

const cases = (counting.cases as unknown as Case[]).filter((each) => each.expect.soaks !== undefined);

test("the shared table has soaks in it", () => {
  expect(cases.length).toBeGreaterThan(3);
});

test.each(cases)("$name", ({ records, expect: { soaks } }) => {
  for (const [id, { ready_at }] of Object.entries(soaks ?? {})) {
    const record = records.find((each) => each.kind === "soak" && each.id === id);
    if (record === undefined) throw new Error(`no soak ${id} in the case`);
    const ready = readyAt(readSoak(row(record)));
    expect(ready === null ? null : new Date(ready).toISOString()).toBe(ready_at);
  }
});
