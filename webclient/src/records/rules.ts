/**
 * How is a table written so that every spreadsheet reads it, and none runs it?
 *
 * The form is RFC 4180: comma, CRLF after every line, a cell in double quotes where it holds a comma, a quote or a line
 * break, a quote inside doubled. Spreadsheets take a text cell that begins with = + - @ (or a tab, a line break, NUL, or
 * a wide form of those) for a formula: such a text gets a leading apostrophe, as OWASP ASVS 5.0, requirement 1.2.10,
 * asks. Numbers stay numbers. JSON is the form that comes back word for word.
 */

import type { Cell } from "./model";

const FORMULA_SIGNS = "=+-@\t\r\n\0＝＋－＠";

/** One cell as it stands in the file. Null is empty; yes and no are words; a whole number has no point. */
export function cellText(value: Cell): string {
  if (value === null) return "";
  if (typeof value === "boolean") return value ? "yes" : "no";
  if (typeof value === "number") return numberText(value);
  const first = value.charAt(0);
  const safe = first !== "" && FORMULA_SIGNS.includes(first) ? `'${value}` : value;
  return /[",\r\n]/.test(safe) ? `"${safe.replaceAll('"', '""')}"` : safe;
}

/**
 * A number with a point and as many digits as tell it apart, never in powers of ten: 2.375, 30, -0.05.
 * Nothing at a bench is below a millionth (written 0) or above a thousand million million (left empty).
 */
export function numberText(value: number): string {
  if (!(Math.abs(value) < 1e15)) return "";
  return Math.abs(value) < 1e-6 ? "0" : String(value);
}

/** A whole file: the header line, then the rows, CRLF after each. */
export function csvText(header: readonly string[], rows: readonly (readonly Cell[])[]): string {
  return [header, ...rows].map((line) => `${line.map(cellText).join(",")}\r\n`).join("");
}

/** A quotient to the hundredth, a half upwards: the same on the server and here. */
export function toHundredths(of: number, by: number): number {
  return Math.floor((of * 100 + by / 2) / by) / 100;
}
