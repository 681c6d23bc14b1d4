/** All records in one file: the server's own format, so that either side reads what the other wrote. */

import type { Change, Row } from "../logbook/model";
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

/** What a file holds: the records as they stood, and the changes that made them so. */
export interface Read {
  records: Told[];
  changes: Change[];
}

interface Standing {
  kind: string;
  id: string;
  /** by field: the change that won it last */
  won: Map<string, WonChange>;
}

/** Throws Unusable. */
export function readWhole(text: string): Read {
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
  const standing = new Map<string, Standing>();
  for (const change of whole.changes) {
    if (!isChange(change)) throw new Unusable("damaged");
    const key = `${change.kind}/${change.record}`;
    const record = standing.get(key) ?? {
      kind: change.kind,
      id: change.record,
      won: new Map<string, WonChange>(),
    };
    standing.set(key, record);
    for (const name of change.won) {
      if (change.set[name] === undefined) throw new Unusable("damaged");
      record.won.set(name, change);
    }
  }
  const records = [...standing.values()].map(({ kind, id, won }): Told => {
    const values = [...won].map(([name, change]) => [name, change.set[name] ?? null] as const);
    return { kind, id, values: Object.fromEntries(values) };
  });
  if (stateHash(records) !== whole.state) throw new Unusable("damaged");
  return {
    records,
    changes: [...standing.values()]
      .flatMap(stillWon)
      .sort((a, b) => (a.made < b.made ? -1 : a.made > b.made ? 1 : 0)),
  };
}

/** The changes of one record, each with the fields that still stand; when they counted as made is when they were made. */
function stillWon(record: Standing): Change[] {
  const found = new Map<WonChange, Change>();
  for (const [name, won] of record.won) {
    let change = found.get(won);
    if (!change) {
      const { id, kind, device, when } = won;
      change = { id, v: 1, kind, record: record.id, device, made: when, set: {}, saw: {}, back: false };
      found.set(won, change);
    }
    change.set[name] = won.set[name] ?? null;
    change.saw[name] = won.saw[name] ?? null;
  }
  return [...found.values()];
}

/** Has it all that a change needs? */
export function isChange(value: unknown): value is WonChange {
  if (typeof value !== "object" || value === null) return false;
  const { id, kind, record, device, made, when, set, saw, won } = value as Partial<WonChange>;
  const areTexts = [id, kind, record, device, made, when].every((word) => typeof word === "string");
  const isObject = (one: unknown): boolean => typeof one === "object" && one !== null;
  return areTexts && isObject(set) && isObject(saw) && Array.isArray(won);
}
