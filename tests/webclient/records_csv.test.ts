import { describe, expect, it } from "vitest";
import fc from "fast-check";
import cases from "../shared_cases/csv.json";
import type { Cell, Derived } from "../../webclient/src/records/model";
import { cellText, csvText } from "../../webclient/src/records/rules";
import { TABLES, tableText } from "../../webclient/src/records/tables";
import { entriesOf } from "./records_rows";
import { dayOf } from "../../webclient/src/language/format";

describe("a cell is written as the shared cases say", () => {
  for (const one of cases.cells) {
    it(one.name, () => expect(cellText(one.value as Cell)).toBe(one.text));
  }
});

describe("a table is written as the shared cases say", () => {
  for (const one of cases.tables) {
    for (const name of TABLES) {
      it(`${one.name}: ${name}`, () => {
        const place = { timeZone: one.time_zone };
        const text = tableText(name, entriesOf(one.records as Parameters<typeof entriesOf>[0]), one.derived as unknown as Derived, (at) => dayOf(at, place));
        expect(text).toBe([...one.expect[name], ""].join("\r\n"));
      });
    }
  }
});

/** A reader by the grammar of RFC 4180, section 2: escaped or plain fields, comma between, CRLF after each record. */
function readBack(text: string): string[][] {
  const records: string[][] = [];
  let fields: string[] = [];
  let at = 0;
  while (at < text.length) {
    let field = "";
    if (text[at] === '"') {
      at += 1;
      for (;;) {
        if (text[at] === undefined) throw new Error("a quoted field has no end");
        if (text[at] !== '"') field += text[at++];
        else if (text[at + 1] === '"') (field += '"'), (at += 2);
        else break;
      }
      at += 1;
    } else {
      while (at < text.length && text[at] !== "," && !text.startsWith("\r\n", at)) {
        if ('"\r\n'.includes(text[at] ?? "")) throw new Error("a plain field holds what must be quoted");
        field += text[at++];
      }
    }
    fields.push(field);
    if (text[at] === ",") at += 1;
    else if (text.startsWith("\r\n", at)) (at += 2), records.push(fields), (fields = []);
    else throw new Error("a field is followed by neither comma nor CRLF");
  }
  return records;
}

describe("any words", () => {
  it("read back as they were, but for the apostrophe before what looks like a formula", () => {
    fc.assert(
      fc.property(fc.array(fc.tuple(fc.string({ unit: "grapheme" }), fc.string({ unit: "binary" }))), (lines) => {
        const [, ...read] = readBack(csvText(["a", "b"], lines));
        const guarded = (cell: string): string => (/^[=+\-@\t\r\n\0＝＋－＠]/.test(cell) ? `'${cell}` : cell);
        expect(read).toEqual(lines.map((line) => line.map(guarded)));
      }),
    );
  });

  it("never begin a cell as a formula does", () => {
    fc.assert(
      fc.property(fc.constantFrom(..."=+-@\t\r\n"), fc.string(), (sign, rest) => {
        expect(readBack(csvText(["a"], [[sign + rest]]))[1]?.[0]?.[0]).toBe("'");
      }),
    );
  });
});

it("a number reads back as the same number, and is never written in powers of ten", () => {
  fc.assert(
    fc.property(fc.double({ min: -1e9, max: 1e9, noNaN: true }).filter((n) => n === 0 || Math.abs(n) >= 1e-6), (n) => {
      expect(Number(cellText(n))).toBe(n === 0 ? 0 : n);
      expect(cellText(n)).not.toContain("e");
    }),
  );
});

it("every table names each column once and ends with the record's id", () => {
  const nothing = { outcome: {}, piece_edge: {}, tally_edges: {}, stands: {} };
  for (const name of TABLES) {
    const header = tableText(name, {}, nothing, () => "").trimEnd().split(",");
    expect(new Set(header).size).toBe(header.length);
    expect(header.at(-1)).toBe("id");
  }
});
