import { acknowledged, fold } from "src/logbook/merge";
import type { Arrival, Change, Row, Winner } from "src/logbook/model";
import { describe, expect, test } from "vitest";
import table from "../shared_cases/merging.json";

type Told = Change & { seq: number; when: string; won: string[]; lost: Record<string, Winner | null>; held?: boolean };

interface Case {
  name: string;
  rows: Told[];
  fields: Record<string, Row["fields"]>;
}

const cases = table.cases as unknown as Case[];

const key = (row: { kind: string; record: string }) => `${row.kind}/${row.record}`;

function folded(rows: readonly Arrival[]): Record<string, Row["fields"]> {
  const records = new Map<string, Row>();
  for (const row of rows) records.set(key(row), fold(records.get(key(row)), row));
  return Object.fromEntries([...records].map(([name, row]) => [name, row.fields]));
}

describe("the phone's base is the fold of the server's rows, in whatever order they arrive", () => {
  test.each(cases)("$name", ({ rows, fields }) => {
    expect(folded(rows)).toEqual(fields);
    expect(folded([...rows].reverse())).toEqual(fields);
  });
});

describe("the answers to one's own changes leave the base as the rows do", () => {
  test.each(cases)("$name", ({ rows, fields }) => {
    const records = new Map<string, Row>();
    for (const row of rows) {
      if (row.held) records.set(key(row), fold(records.get(key(row)), row));
      else records.set(key(row), acknowledged(records.get(key(row)), row, row));
    }
    expect(Object.fromEntries([...records].map(([name, row]) => [name, row.fields]))).toEqual(fields);
  });
});
