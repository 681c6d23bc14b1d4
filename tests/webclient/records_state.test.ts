import "fake-indexeddb/auto";
import { readFileSync } from "node:fs";
import { beforeAll, describe, expect, it } from "vitest";
import { logbook } from "src/logbook/state";
import { neverWas, showAgain } from "src/logbook/never_was";
import { bringIn, isEmpty, wholeFile } from "src/records/state";

const file = readFileSync(new URL("../shared_cases/phone_export.json", import.meta.url), "utf8");
const state = (JSON.parse(file) as { state: string }).state;

beforeAll(() => logbook.open());

describe("a file of another Easelside, in the order of a day", () => {
  it("is refused where one letter was changed, and nothing of it is taken in", async () => {
    expect(await bringIn(file.replace("thicker", "thickes"))).toEqual({ done: false, why: "damaged" });
    expect(isEmpty()).toBe(true);
  });

  it("comes into an empty workshop word for word", async () => {
    expect(await bringIn(file)).toEqual({ done: true, records: 3, state });
    expect(logbook.rows("lot").map((row) => row.fields["label"]?.value)).toEqual(["D"]);
  });

  it("is saved and waits to be sent", () => {
    expect(logbook.status.value.keeping).toBe("saved");
    expect(logbook.status.value.unsent).toBe((JSON.parse(file) as { changes: unknown[] }).changes.length);
  });

  it("keeps who wrote what when, so that a workshop that has it already takes nothing twice", () => {
    const piece = logbook.rows("piece")[0];
    const lost = Object.entries(piece?.fields ?? {}).find(([, field]) => field.value === "lost");
    expect(lost?.[0]).toBe(`outcome/${lost?.[1].change}`);
    expect(lost?.[1].when).toBe("2026-11-25T12:00:00.000Z");
  });

  it("keeps what was removed out of sight", () => expect(logbook.rows("blade")).toEqual([]));

  it("goes out again with the same hash", () => {
    expect((JSON.parse(wholeFile("2026-11-25").text) as { state: string }).state).toBe(state);
  });

  it("is refused by a workshop that holds something", async () => {
    expect(await bringIn(file)).toEqual({ done: false, why: "not_empty" });
  });

  it("shows a removed record again when told to", () => {
    const removed = logbook.all("blade")[0];
    showAgain("blade", removed?.id ?? "");
    expect(logbook.rows("blade").map((row) => row.fields["label"]?.value)).toEqual(["4"]);
  });

  it("takes what never was out of sight, and brings it back when told to", () => {
    const [lot] = logbook.rows("lot");
    neverWas("lot", lot?.id ?? "");
    expect(logbook.rows("lot")).toEqual([]);
    showAgain("lot", lot?.id ?? "");
    expect(logbook.rows("lot")).toHaveLength(1);
  });
});
