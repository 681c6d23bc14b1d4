import { createHash } from "node:crypto";
import { readFileSync } from "node:fs";
import { fileURLToPath } from "node:url";
import { describe, expect, it } from "vitest";
import cases from "../shared_cases/state_hash.json";
import { stateHash } from "../../webclient/src/records/hash";
import { readWhole, told, Unusable, wholeText } from "../../webclient/src/records/whole";
import type { Row, Value } from "../../webclient/src/logbook/model";

describe("the hash is that of the lines written out", () => {
  for (const one of cases.cases) {
    it(one.name, () => {
      const lines = one.lines.map((line) => `${line}\n`).join("");
      const records = one.records as unknown as Parameters<typeof stateHash>[0];
      expect(stateHash(records)).toBe(createHash("sha256").update(lines).digest("hex"));
    });
  }
});

const PHONE = "019a0591-4d80-779c-8c74-c5bc7aaa1503";

function row(kind: string, id: string, fields: Record<string, [Value, string, number | null]>): Row {
  const when = "2026-11-25T12:00:00.000Z";
  return {
    kind,
    id,
    fields: Object.fromEntries(
      Object.entries(fields).map(([name, [value, change, seq]]) => [name, { value, change, seq, when, back: false, saw: null }]),
    ),
  };
}

const C = (n: number): string => `01a212b4-ab80-7b12-8000-00000000000${n}`;
const R = (n: number): string => `01a212b4-ab80-7b12-9000-00000000000${n}`;
const rows: Row[] = [
  row("lot", R(1), { label: ["D", C(2), 2], note: ["gouged thicker", C(7), null] }),
  row("piece", R(2), { number: [12, C(1), 1], [`outcome/${C(1)}`]: [null, C(3), 3], [`outcome/${C(4)}`]: ["lost", C(4), null], seen: [["torn"], C(4), null] }),
  row("blade", R(3), { label: ["4", C(5), 4], removed: [true, C(6), 5] }),
];
const text = wholeText(rows, "2026-11-25T12:50:00.000Z", PHONE);

it("a file made here is the one that the server is tested with", () => {
  const kept = fileURLToPath(new URL("../shared_cases/phone_export.json", import.meta.url));
  expect(text).toBe(readFileSync(kept, "utf8"));
});

it("a file made here reads back as the same records, by their hash", () => {
  expect(stateHash(readWhole(text).records)).toBe(stateHash(rows.map(told)));
});

it("an outcome that was taken back stays taken back in the file", () => {
  const piece = readWhole(text).records.find((record) => record.kind === "piece");
  expect(piece?.values[`outcome/${C(1)}`]).toBeNull();
  expect(piece?.values[`outcome/${C(4)}`]).toBe("lost");
});

const refused = (file: string): string => {
  try {
    readWhole(file);
    return "taken";
  } catch (problem) {
    return problem instanceof Unusable ? problem.code : "thrown";
  }
};

describe("a file is refused whole", () => {
  it("where one letter of it was changed", () => expect(refused(text.replace("thicker", "thickes"))).toBe("damaged"));
  it("where a change is missing", () => expect(refused(text.replace(/\n\{.*?\},\n/, "\n"))).toBe("damaged"));
  it("where it ends too early", () => expect(refused(text.slice(0, -30))).toBe("not_ours"));
  it("where it is something else", () => expect(refused('{"hello": 1}')).toBe("not_ours"));
  it("where it is no object at all", () => expect(refused("null")).toBe("not_ours"));
  it("where a newer Easelside made it", () => expect(refused(text.replace('"easelside_export":1', '"easelside_export":2'))).toBe("newer"));
});
