import { afterEach, beforeEach, expect, test, vi } from "vitest";
import { ringing } from "src/alarms/rules";
import { readSoak } from "src/soak/model";
import { honest, json, type Phone, phone, say, shownOf, Wire } from "./phones";

beforeEach(() => vi.useFakeTimers({ toFake: ["Date"], now: Date.parse("2026-11-25T14:00:00.000Z") }));
afterEach(() => {
  vi.useRealTimers();
  vi.unstubAllGlobals();
});

const shut = (code: string) => () => json({ status: 403, code }, 403, "application/problem+json");

test.each(["not_paired", "withdrawn"] as const)("a device that is %s keeps its outbox, shows it and knows why", async (why) => {
  const wire = new Wire();
  const one = await phone(wire);
  wire.network = shut(why);
  await say(one, { pieces: 12 });
  await one.exchange.run();
  await say(one, { pieces: 13 });
  await one.exchange.run();
  expect(one.exchange.letIn.value).toBe(why);
  expect(one.logbook.status.value.unsent).toBe(2);
  expect(shownOf(one)).toEqual({ pieces: 13 });
  expect(one.logbook.questions.value).toEqual([]);
});

test("once it is let in again, all that waited is sent in order", async () => {
  const wire = new Wire();
  const one = await phone(wire);
  await say(one, { pieces: 12 });
  await one.exchange.run();
  wire.network = shut("withdrawn");
  await say(one, { pieces: 13 });
  await one.exchange.run();
  wire.network = honest;
  await one.exchange.run();
  expect(one.exchange.letIn.value).toBe("yes");
  expect(wire.server.rows.map((row) => row.set)).toEqual([{ pieces: 12 }, { pieces: 13 }]);
  expect(one.logbook.status.value.unsent).toBe(0);
});

test("another 403, a proxy's say, is no word about pairing", async () => {
  const wire = new Wire();
  const one = await phone(wire);
  for (const network of [shut("foreign_origin"), () => json({ code: "withdrawn" }, 403)]) {
    wire.network = network;
    await one.exchange.run();
    expect(one.exchange.letIn.value).toBe("unknown");
  }
});

function isRinging({ logbook }: Phone): boolean {
  const row = logbook.row("soak", "r");
  const soak = row && readSoak(row);
  if (!soak) throw new Error("no soak");
  const at = Date.parse(soak.put_in ?? "") + soak.soak_s * 1000;
  const again_at = soak.rings_again_at === null ? null : Date.parse(soak.rings_again_at);
  const ending = { id: soak.id, at, silenced: soak.silenced_at !== null, again_at };
  return ringing([ending], Date.now()).length > 0;
}

test("a soak that one phone silences is silent on the other after the next exchange", async () => {
  const wire = new Wire();
  const [one, two] = [await phone(wire), await phone(wire)];
  await say(one, { what_for: "profile", pieces: 6, soak_s: 1800, put_in: "2026-11-25T13:29:00.000Z" });
  await one.exchange.run();
  await two.exchange.run();
  expect([isRinging(one), isRinging(two)]).toEqual([true, true]);
  await say(one, { silenced_at: "2026-11-25T14:00:00.000Z", rings_again_at: null });
  await one.exchange.run();
  await two.exchange.run();
  expect([isRinging(one), isRinging(two)]).toEqual([false, false]);
});

async function openedAt(hash: string) {
  vi.resetModules();
  const replaced: string[] = [];
  const location = { hash };
  vi.stubGlobal("location", location);
  vi.stubGlobal("history", {
    replaceState: (_state: unknown, _title: string, url: string) => {
      replaced.push(url);
      location.hash = url;
    },
  });
  const { route, takeBroughtCode } = await import("src/route");
  return { route, takeBroughtCode, replaced };
}

test("the square's code is out of the address before anything is drawn, and is given out once", async () => {
  const { route, takeBroughtCode, replaced } = await openedAt("#/p/ABCDEFGH2345QRST");
  expect(replaced).toEqual(["#/phones"]);
  expect(route.value).toEqual({ room: "phones", rest: [], query: {} });
  expect(takeBroughtCode()).toBe("ABCDEFGH2345QRST");
  expect(takeBroughtCode()).toBeNull();
});

test.each(["#/p/ABC", "#/phones", "#/p/ABCDEFGH2345QRS1", "", "#/soak/p/ABCDEFGH2345QRST"])(
  "the address %s brings no code and stays as it is",
  async (hash) => {
    const { takeBroughtCode, replaced } = await openedAt(hash);
    expect(replaced).toEqual([]);
    expect(takeBroughtCode()).toBeNull();
  },
);
