/** Are these the same records as those? One number for all that they say, the same on the server. */

import { hex } from "../logbook/ids";
import type { Value } from "../logbook/model";
import { sha256, utf8 } from "../logbook/sha256";

/** A record's plain values. */
export interface Told {
  kind: string;
  id: string;
  values: Readonly<Record<string, Value>>;
}

/** SHA-256 over a line of canonical JSON for each record that says something, by kind and id. */
export function stateHash(records: readonly Told[]): string {
  const lines: string[] = [];
  for (const record of [...records].sort((a, b) => codePoints(a.kind, b.kind) || codePoints(a.id, b.id))) {
    const said = Object.entries(record.values).filter(([, value]) => value !== null);
    if (said.length === 0) continue;
    lines.push(`${canonical([record.kind, record.id, Object.fromEntries(said)])}\n`);
  }
  return hex(sha256(utf8(lines.join(""))));
}

/** JSON without spaces, names in the order of their code points, numbers in their one form. */
export function canonical(value: Value): string {
  if (typeof value === "number") return numeral(value);
  if (value === null || typeof value !== "object") return JSON.stringify(value);
  if (Array.isArray(value)) return `[${value.map(canonical).join(",")}]`;
  const names = Object.keys(value).sort(codePoints);
  return `{${names.map((name) => `${JSON.stringify(name)}:${canonical(value[name] ?? null)}`).join(",")}}`;
}

/** The server's form: plain from 0.00001 up, powers of ten written `1.5e-7`; whole numbers up to 2 to the 63 in full. */
function numeral(value: number): string {
  const size = Math.abs(value);
  if (value === 0) return "0";
  if (Number.isInteger(value) && size < 2 ** 63) return BigInt(value).toString();
  return size < 1e-5 || size >= 2 ** 63 ? value.toExponential().replace("e+", "e") : String(value);
}

/** UTF-16 puts letters beyond the first plane before some within it; the server's UTF-8 does not. */
function codePoints(a: string, b: string): number {
  const length = Math.min(a.length, b.length);
  for (let i = 0; i < length; i += 1) {
    if (a.charCodeAt(i) === b.charCodeAt(i)) continue;
    return lifted(a.charCodeAt(i)) - lifted(b.charCodeAt(i));
  }
  return a.length - b.length;
}

const lifted = (unit: number): number => (unit >= 0xd800 && unit < 0xe000 ? unit + 0x10000 : unit);
