/** What does this record say in that field? Typed reading; what has another type counts as not said. */

import type { Field, Row, Value } from "./model";

export function at(row: Row | undefined, name: string): Value | undefined {
  return row?.fields[name]?.value;
}

export function text(row: Row | undefined, name: string): string | null {
  const value = at(row, name);
  return typeof value === "string" ? value : null;
}

export function num(row: Row | undefined, name: string): number | null {
  const value = at(row, name);
  return typeof value === "number" && Number.isFinite(value) ? value : null;
}

/** null where it was never said, so that "no" and "not said" stay apart. */
export function flag(row: Row | undefined, name: string): boolean | null {
  const value = at(row, name);
  return typeof value === "boolean" ? value : null;
}

export function list(row: Row | undefined, name: string): Value[] {
  const value = at(row, name);
  return Array.isArray(value) ? value : [];
}

export function texts(row: Row | undefined, name: string): string[] {
  return list(row, name).filter((value): value is string => typeof value === "string");
}

export function dict(row: Row | undefined, name: string): { [name: string]: Value } {
  const value = at(row, name);
  return typeof value === "object" && value !== null && !Array.isArray(value) ? value : {};
}

/** The fields whose name begins so, as [the rest of the name, field], in the order of their names. */
export function prefixed(row: Row | undefined, start: string): [string, Field][] {
  return Object.entries(row?.fields ?? {})
    .filter(([name]) => name.startsWith(start))
    .map(([name, field]): [string, Field] => [name.slice(start.length), field])
    .sort(([a], [b]) => (a < b ? -1 : a > b ? 1 : 0));
}

/** Reads each row once: a record that changes is a new row. */
export function once<T>(read: (row: Row) => T): (row: Row) => T {
  const known = new WeakMap<Row, { value: T }>();
  return (row) => {
    const kept = known.get(row) ?? { value: read(row) };
    known.set(row, kept);
    return kept.value;
  };
}

/** The last answer again for as long as the arguments are the same ones: several rooms ask the same within one tap. */
export function whileSame<A extends readonly unknown[], T>(work: (...of: A) => T): (...of: A) => T {
  let kept: { of: A; answer: T } | null = null;
  return (...of) => {
    if (!kept?.of.every((one, i) => one === of[i])) kept = { of, answer: work(...of) };
    return kept.answer;
  };
}
