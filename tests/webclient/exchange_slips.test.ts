import "fake-indexeddb/auto";
import { beforeEach, expect, test } from "vitest";
import { readSlips } from "src/exchange/slips";
import { heldSlips, openSlips, slip, takeSlips } from "src/logbook/slips";
import { logbook } from "src/logbook/state";
import { readMeta, writeMeta } from "src/logbook/store";

const soaks = { kind: "soak", subject: "all", as_of_seq: 10, observations: 31, body: { ready_s: 1800 } };

async function knows(id: string, cursor: number): Promise<void> {
  await logbook.open();
  await logbook.store.inOne(async (all) => {
    const meta = all.objectStore("meta");
    const known = await readMeta(meta);
    if (known) await writeMeta(meta, { ...known, logbook: id, cursor });
  });
}

beforeEach(() => knows("one", 10));

test("a slip is used once the phone has heard of all that it rests on", async () => {
  await knows("one", 9);
  expect(await takeSlips({ logbook: "one", rev: 1, slips: [soaks] })).toBe(false);
  expect(slip("soak", "all")).toBeUndefined();
  await knows("one", 10);
  expect(await takeSlips({ logbook: "one", rev: 1, slips: [soaks] })).toBe(true);
  expect(slip("soak", "all")?.body).toEqual({ ready_s: 1800 });
});

test("a slip replaces the one before it whole, and leaves the others", async () => {
  const lot = { ...soaks, subject: "lot-d" };
  await takeSlips({ logbook: "one", rev: 1, slips: [soaks, lot] });
  await takeSlips({ logbook: "one", rev: 2, slips: [{ ...soaks, body: { best_s: 2000 } }] });
  expect(slip("soak", "all")?.body).toEqual({ best_s: 2000 });
  expect(slip("soak", "lot-d")?.body).toEqual({ ready_s: 1800 });
});

test("a slip with an empty body is withdrawn", async () => {
  await takeSlips({ logbook: "one", rev: 1, slips: [soaks] });
  await takeSlips({ logbook: "one", rev: 2, slips: [{ ...soaks, body: {} }] });
  expect(slip("soak", "all")).toBeUndefined();
  expect(heldSlips()?.rev).toBe(2);
});

test("slips of another logbook are dropped", async () => {
  await takeSlips({ logbook: "one", rev: 1, slips: [soaks] });
  await knows("two", 10);
  expect(await takeSlips({ logbook: "two", rev: 1, slips: [{ ...soaks, subject: "lot-e" }] })).toBe(true);
  expect(slip("soak", "all")).toBeUndefined();
  expect(slip("soak", "lot-e")).toBeDefined();
});

test("slips are there again after a reload, without a network", async () => {
  await takeSlips({ logbook: "one", rev: 7, slips: [soaks] });
  await openSlips();
  expect(heldSlips()?.rev).toBe(7);
});

test.each(["<html>sign in</html>", "{}", '{"logbook":"one","rev":1,"slips":[{"kind":"soak"}]}', "[]"])(
  "what is not the server's answer is no slip: %s",
  (body) => expect(readSlips(body)).toBeNull(),
);
