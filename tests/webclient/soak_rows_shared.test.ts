import { expect, test } from "vitest";
import type { Row, Value } from "../../webclient/src/logbook/model";
import { readSoak } from "../../webclient/src/soak/model";
import { nextGroup } from "../../webclient/src/soak/rules";
import table from "../shared_cases/soak_rows.json";

interface Case {
  name: string;
  now: string;
  soaks: Record<string, Record<string, Value>>;
  expect: { last: string; at: string; pieces: number } | null;
}

function row(id: string, fields: Record<string, Value>): Row {
  const field = (value: Value) => ({ value, change: "c", seq: 1, when: "2026-11-20T12:00:00.000Z", back: false, saw: null });
  return { kind: "soak", id, fields: Object.fromEntries(Object.entries(fields).map(([name, value]) => [name, field(value)])) };
}

test.each(table.cases as unknown as Case[])("$name", ({ now, soaks, expect: wanted }) => {
  const found = nextGroup(
    Object.entries(soaks).map(([id, fields]) => readSoak(row(id, fields))),
    Date.parse(now),
  );
  const said = found && { last: found.row.at(-1)?.id, at: new Date(found.at).toISOString(), pieces: found.pieces };
  expect(said).toEqual(wanted);
});
