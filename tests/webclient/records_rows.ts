/** Records for the tests of Records: plain values as rows of a logbook. */

import type { Row, Value } from "../../webclient/src/logbook/model";
import type { Entries } from "../../webclient/src/records/model";

type Plain = Record<string, readonly { id: string; fields: Record<string, Value> }[]>;

export function entriesOf(plain: Plain): Entries {
  return Object.fromEntries(Object.entries(plain).map(([kind, all]) => [kind, all.map(({ id, fields }) => rowOf(kind, id, fields))]));
}

function rowOf(kind: string, id: string, values: Record<string, Value>): Row {
  const when = "2026-11-25T12:00:00.000Z";
  const fields = Object.entries(values).map(([name, value]) => [name, { value, change: "c", seq: 1, when, back: false, saw: null }]);
  return { kind, id, fields: Object.fromEntries(fields) };
}
