/** All records in one file: the server's own format, so that either side reads what the other wrote. */

import type { Change, Row, Value, Values } from "../logbook/model";
import { stateHash, type Told } from "./hash";

/** A change with what it won and its number, as a logbook keeps it. */
export interface WonChange extends Change {
  seq: number;
  when: string;
  won: string[];
}

export interface Whole {
  easelside_export: 1;
  logbook: string | null;
  made: string;
  end: { seq: number; hash: string };
  changes: WonChange[];
  state: string;
}

/** What is wrong with a file: a code that the room puts in words. */
export class Unusable extends Error {
  constructor(readonly code: "not_ours" | "newer" | "damaged") {
    super(code);
  }
}

export const told = (row: Row): Told => ({
  kind: row.kind,
  id: row.id,
  values: Object.fromEntries(Object.entries(row.fields).map(([name, field]) => [name, field.value])),
});

/**
 * The file's text, one change a line. What stands in the records is written as the changes that won it; what was
 * written over is the server's to keep. `made` (RFC 3339) is when the file is made, `device` who makes it.
 */
export function wholeText(rows: readonly Row[], made: string, device: string): string {
  const changes = wonChanges(rows, device);
  const head = { easelside_export: 1, logbook: null, made, end: { seq: changes.length, hash: "" } };
  const lines = changes.map((change) => JSON.stringify(change)).join(",\n");
  const state = stateHash(rows.map(told));
  return `${JSON.stringify(head).slice(0, -1)},"changes":[\n${lines}\n],"state":${JSON.stringify(state)}}\n`;
}

function wonChanges(rows: readonly Row[], device: string): WonChange[] {
  const found: (WonChange & { order: number })[] = [];
  for (const { kind, id: record, fields } of rows) {
    const own = new Map<string, WonChange & { order: number }>();
    for (const [name, field] of Object.entries(fields)) {
      let change = own.get(field.change);
      if (!change) {
        const { seq, when, back } = field;
        const order = seq ?? Number.MAX_SAFE_INTEGER;
        change = {
          seq: 0,
          when,
          won: [],
          id: field.change,
          v: 1,
          kind,
          record,
          device,
          made: when,
          set: {},
          saw: {},
          back,
          order,
        };
        own.set(field.change, change);
        found.push(change);
      }
      change.won.push(name);
      change.set[name] = field.value;
      change.saw[name] = field.saw;
    }
  }
  found.sort(
    (a, b) => a.order - b.order || (a.when < b.when ? -1 : a.when > b.when ? 1 : a.id < b.id ? -1 : 1),
  );
  return found.map(({ order: _, ...change }, index) => ({ ...change, seq: index + 1 }));
}

/** The records of a file, their values as they stood; throws Unusable. */
export function readWhole(text: string): Told[] {
  let whole: Partial<Whole>;
  try {
    whole = JSON.parse(text) as Partial<Whole>;
  } catch {
    throw new Unusable("not_ours");
  }
  if (typeof whole !== "object" || whole === null || typeof whole.easelside_export !== "number")
    throw new Unusable("not_ours");
  if ((whole.easelside_export as number) > 1) throw new Unusable("newer");
  if (!Array.isArray(whole.changes)) throw new Unusable("damaged");
  const records = new Map<string, { kind: string; id: string; values: Values }>();
  for (const change of whole.changes) {
    if (!isChange(change)) throw new Unusable("damaged");
    const key = `${change.kind}/${change.record}`;
    const record = records.get(key) ?? { kind: change.kind, id: change.record, values: {} };
    records.set(key, record);
    for (const name of change.won) {
      const value: Value | undefined = change.set[name];
      if (value === undefined) throw new Unusable("damaged");
      record.values[name] = value;
    }
  }
  const found = [...records.values()];
  if (stateHash(found) !== whole.state) throw new Unusable("damaged");
  return found;
}

function isChange(value: unknown): value is WonChange {
  if (typeof value !== "object" || value === null) return false;
  const { kind, record, set, won } = value as Partial<WonChange>;
  return (
    typeof kind === "string" &&
    typeof record === "string" &&
    typeof set === "object" &&
    set !== null &&
    Array.isArray(won)
  );
}
