/** What follows from the records that no record says itself, and how a record's moments and counts are read? */

import type { Row } from "../logbook/model";
import { dict, num, text } from "../logbook/read";

/** By kind, in the order of their ids. */
export type Entries = Readonly<Record<string, readonly Row[]>>;

export type Outcome = "good" | "second" | "lost";
export const OUTCOMES: readonly Outcome[] = ["good", "second", "lost"];
export const STAGES = ["gouged", "profiled", "shaped", "formed", "finished"] as const;

/** What came out of a stage, in pieces. */
export type Stood = Record<Outcome, number>;

/** What counting adds. An edge is written `3/1`: the blade's label and its life, from one grinding to the next. */
export interface Derived {
  outcome: Readonly<Record<string, Outcome>>;
  piece_edge: Readonly<Record<string, string>>;
  tally_edges: Readonly<Record<string, readonly string[]>>;
  stands: Readonly<Record<string, Readonly<Record<string, Stood>>>>;
}

export type Cell = null | boolean | number | string;

export const isRemoved = (row: Row): boolean => row.fields.removed?.value === true;

/** Those not removed. */
export const shown = (entries: Entries, kind: string): Row[] =>
  (entries[kind] ?? []).filter((row) => !isRemoved(row));

/** A whole number from 0 up. */
export function count(row: Row | undefined, name: string): number | null {
  const value = num(row, name);
  return value !== null && value >= 0 ? Math.trunc(value) : null;
}

/** Counts by name, such as a tally's losses by what was seen. */
export function counts(row: Row, name: string): [string, number][] {
  return Object.entries(dict(row, name)).flatMap(([key, n]) =>
    typeof n === "number" && n >= 1 ? [[key, Math.trunc(n)]] : [],
  );
}

/** An instant as milliseconds; null where it cannot be read. */
export function instant(row: Row, name: string): number | null {
  const written = text(row, name) ?? "";
  const ms = /T.*(Z|[+-]\d\d:?\d\d)$/.test(written) ? Date.parse(written) : Number.NaN;
  return Number.isNaN(ms) ? null : ms;
}

/** Any record by its kind and id. */
export type Look = (kind: string, id: string | null) => Row | undefined;

export function lookIn(entries: Entries): Look {
  const known = new Map(
    Object.values(entries).flatMap((rows) => rows.map((row) => [`${row.kind}/${row.id}`, row])),
  );
  return (kind, id) => known.get(`${kind}/${id ?? ""}`);
}

/** A list for each key, in the order met. */
export function groupBy<T>(
  all: readonly T[],
  keysOf: (one: T) => readonly (string | null)[],
): Map<string, T[]> {
  const found = new Map<string, T[]>();
  for (const one of all) {
    for (const key of keysOf(one)) {
      const group = found.get(key ?? "");
      if (group) group.push(one);
      else found.set(key ?? "", [one]);
    }
  }
  return found;
}

/** Oldest first by what that field says, then by id. */
export const by =
  (name: string) =>
  (a: Row, b: Row): number =>
    compare(text(a, name) ?? "", text(b, name) ?? "") || compare(a.id, b.id);

export const compare = (a: string, b: string): number => (a < b ? -1 : a > b ? 1 : 0);
