/** What is a record as a table or a list needs it, and what follows from the records that no record says itself? */

import type { Value } from "../logbook/model";

export type Fields = Record<string, Value>;

/** A record's plain values; what is null is "not said". */
export interface Entry {
  id: string;
  fields: Fields;
}

/** By kind, in the order of their ids. */
export type Entries = Readonly<Record<string, readonly Entry[]>>;

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

const said = (fields: Fields, name: string): Value | undefined =>
  Object.hasOwn(fields, name) ? fields[name] : undefined;

export function text(fields: Fields, name: string): string | null {
  const value = said(fields, name);
  return typeof value === "string" && value !== "" ? value : null;
}

export function number(fields: Fields, name: string): number | null {
  const value = said(fields, name);
  return typeof value === "number" && Math.abs(value) < 1e15 ? value : null;
}

/** A whole number from 0 up. */
export function count(fields: Fields, name: string): number | null {
  const value = number(fields, name);
  return value !== null && value >= 0 ? Math.trunc(value) : null;
}

export function flag(fields: Fields, name: string): boolean | null {
  const value = said(fields, name);
  return typeof value === "boolean" ? value : null;
}

export function texts(fields: Fields, name: string): string[] {
  const value = said(fields, name);
  return Array.isArray(value) ? value.filter((one): one is string => typeof one === "string") : [];
}

export function numbers(fields: Fields, name: string): Record<string, number> {
  const value = said(fields, name);
  const found: Record<string, number> = {};
  if (typeof value !== "object" || value === null || Array.isArray(value)) return found;
  for (const [key, n] of Object.entries(value))
    if (typeof n === "number" && n >= 1) found[key] = Math.trunc(n);
  return found;
}

/** An instant as milliseconds; null where it cannot be read. */
export function instant(fields: Fields, name: string): number | null {
  const written = text(fields, name);
  if (written === null || !/T.*(Z|[+-]\d\d:?\d\d)$/.test(written)) return null;
  const ms = Date.parse(written);
  return Number.isNaN(ms) ? null : ms;
}
