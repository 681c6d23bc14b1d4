import { afterEach, beforeEach, expect, test, vi } from "vitest";
import { freshName, honest, json, type Network, phone, say, shownOf, Wire } from "./phones";

// only the clock is held: IndexedDB needs its own timers
beforeEach(() => vi.useFakeTimers({ toFake: ["Date"], now: Date.parse("2026-11-25T10:00:00.000Z") }));
afterEach(() => vi.useRealTimers());

test("what is written reaches the server once", async () => {
  const wire = new Wire();
  const one = await phone(wire);
  await say(one, { pieces: 12 });
  await one.exchange.run();
  await one.exchange.run();
  expect(wire.server.rows.map((row) => row.set)).toEqual([{ pieces: 12 }]);
  expect(one.logbook.status.value).toMatchObject({ unsent: 0, exchange: "ok" });
});

test("changes are sent in the order in which they were made", async () => {
  const wire = new Wire();
  const one = await phone(wire);
  for (let n = 0; n < 250; n++) await say(one, { n });
  await one.exchange.run();
  expect(wire.server.rows.map((row) => row.set.n)).toEqual(Array.from({ length: 250 }, (_, n) => n));
});

test("what another phone wrote is shown after an exchange", async () => {
  const wire = new Wire();
  const [one, two] = [await phone(wire), await phone(wire)];
  await say(one, { pieces: 12 });
  await one.exchange.run();
  await two.exchange.run();
  expect(shownOf(two)).toEqual({ pieces: 12 });
});

test("a pull of many pages is fetched to its end", async () => {
  const wire = new Wire();
  const [one, two] = [await phone(wire), await phone(wire)];
  for (let n = 0; n < 9; n++) await say(one, { n }, `r${n}`);
  await one.exchange.run();
  wire.server.page = 2;
  await two.exchange.run();
  expect(two.logbook.rows("soak")).toHaveLength(9);
});

test("an edit that saw the other phone's stands, and the other phone shows it", async () => {
  const wire = new Wire();
  const [one, two] = [await phone(wire), await phone(wire)];
  await say(one, { note: "first" });
  await one.exchange.run();
  await two.exchange.run();
  vi.setSystemTime("1970-01-01T00:00:00Z"); // a wrong clock changes nothing between edits that saw each other
  await say(two, { note: "second" });
  await two.exchange.run();
  await one.exchange.run();
  expect([shownOf(one), shownOf(two)]).toEqual([{ note: "second" }, { note: "second" }]);
});

test("a loser shows the winner and is told of it", async () => {
  const wire = new Wire();
  const [one, two] = [await phone(wire), await phone(wire)];
  await say(two, { note: "earlier" });
  vi.setSystemTime("2026-11-25T10:05:00.000Z");
  await say(one, { note: "later" });
  await one.exchange.run();
  await two.exchange.run();
  expect(shownOf(two)).toEqual({ note: "later" });
  expect(two.logbook.questions.value.map(({ kind }) => kind)).toContain("lost");
});

test("a take-back that another phone's edit outran is told to the maker", async () => {
  const wire = new Wire();
  const [one, two] = [await phone(wire), await phone(wire)];
  await say(one, { note: "wrong" });
  await one.exchange.run();
  await two.exchange.run();
  await say(two, { note: "put right by the other" });
  await two.exchange.run();
  await one.logbook.takeBack("soak", "r", { note: null }).saved;
  expect(shownOf(one)).toEqual({ note: null });
  await one.exchange.run();
  expect(shownOf(one)).toEqual({ note: "put right by the other" });
  expect(one.logbook.questions.value.map(({ kind }) => kind)).toContain("take_back");
});

const garbage: [string, Network][] = [
  ["a captive portal's page", () => new Response("<html>sign in</html>", { headers: { "content-type": "text/html" } })],
  ["a page that says it is JSON", () => new Response("<html>", { headers: { "content-type": "application/json" } })],
  ["an error of the server", () => json({ title: "broken" }, 500, "application/problem+json")],
  ["a proxy's error", () => new Response("bad gateway", { status: 502 })],
  ["an answer cut in the middle", (request, server) => {
    const whole = JSON.stringify(server.answer(request));
    return new Response(whole.slice(0, whole.length / 2), { headers: { "content-type": "application/json" } });
  }],
  ["a connection cut after the server took it", (request, server) => {
    server.answer(request);
    throw new TypeError("network");
  }],
  ["a redirect", () => { throw new TypeError("redirected"); }],
  ["another workshop's logbook", (request, server) => json({ ...server.answer(request), logbook: "somebody else's" })],
  ["an answer that names no fields", (request, server) => json({ ...server.answer(request), accepted: [{ id: "x" }] })],
  ["a list", () => json([])],
  ["nothing at all", () => new Response("")],
];

test.each(garbage)("%s harms nothing, and what was written arrives once later", async (_what, broken) => {
  const wire = new Wire();
  const one = await phone(wire);
  await one.exchange.run();
  await say(one, { pieces: 12 });
  wire.network = broken;
  await one.exchange.run();
  expect(shownOf(one)).toEqual({ pieces: 12 });
  expect(one.logbook.status.value).toMatchObject({ unsent: 1, exchange: "waiting", keeping: "saved" });
  wire.network = honest;
  await one.exchange.run();
  expect(wire.server.rows.map((row) => row.set)).toEqual([{ pieces: 12 }]);
  expect(one.logbook.status.value).toMatchObject({ unsent: 0, exchange: "ok" });
});

test("a refused change leaves what is shown, is listed, and nothing waits behind it", async () => {
  const wire = new Wire();
  const one = await phone(wire);
  wire.server.refuses = (change) => (change.set.bad ? "The field is too long." : null);
  await say(one, { pieces: 12 });
  await say(one, { bad: true });
  await say(one, { jar: "1" });
  await one.exchange.run();
  expect(shownOf(one)).toEqual({ pieces: 12, jar: "1" });
  expect(one.logbook.status.value.unsent).toBe(0);
  const [asked] = one.logbook.questions.value.filter(({ kind }) => kind === "refused");
  expect(asked?.facts).toMatchObject({ problem: "The field is too long.", set: { bad: true } });
});

test("a refused change is still listed after the phone was opened anew", async () => {
  const wire = new Wire();
  const name = freshName();
  const one = await phone(wire, name);
  wire.server.refuses = () => "No.";
  await say(one, { bad: true });
  await one.exchange.run();
  const again = await phone(wire, name);
  expect(again.logbook.questions.value.map(({ kind }) => kind)).toEqual(["refused"]);
});

test("where the server refuses a whole request, the one bad change is found and the rest goes through", async () => {
  const wire = new Wire();
  const one = await phone(wire);
  wire.network = (request, server) =>
    request.changes.some((change) => change.set.bad)
      ? json({ title: "Too large", detail: "Write less." }, 413, "application/problem+json")
      : honest(request, server);
  for (const set of [{ a: 1 }, { bad: true }, { b: 2 }]) await say(one, set);
  await one.exchange.run();
  expect(wire.server.record("soak", "r")).toEqual({ a: 1, b: 2 });
  const [asked] = one.logbook.questions.value;
  expect(asked?.facts.problem).toBe("Too large. Write less.");
});

test("a phone whose clock is far off is told so, and by how much", async () => {
  const wire = new Wire();
  wire.server.now = "2026-11-25T11:00:00.000Z";
  const one = await phone(wire);
  await one.exchange.run();
  expect(one.logbook.questions.value).toMatchObject([{ kind: "clock", facts: { off_ms: -3_600_000 } }]);
  wire.server.now = "2026-11-25T10:00:00.000Z";
  await one.exchange.run();
  expect(one.logbook.questions.value).toEqual([]);
});

test("acknowledged changes are kept until a backup is sure to hold them, and not longer", async () => {
  const wire = new Wire();
  const one = await phone(wire);
  for (let n = 0; n < 3; n++) await say(one, { n });
  await one.exchange.run();
  const kept = () => one.store.read((all) => all.objectStore("kept").getAll());
  expect(await kept()).toHaveLength(3);
  wire.server.safe = 2;
  await one.exchange.run();
  expect((await kept()).map(({ seq }) => seq)).toEqual([3]);
});

test("two tabs of one phone soon show the same, and send each change once", async () => {
  const wire = new Wire();
  const name = freshName();
  const [left, right] = [await phone(wire, name), await phone(wire, name)];
  expect(left.logbook.device).toBe(right.logbook.device);
  await Promise.all([say(left, { pieces: 12 }), say(right, { jar: "1" })]);
  await vi.waitFor(() => {
    expect(shownOf(left)).toEqual({ pieces: 12, jar: "1" });
    expect(shownOf(right)).toEqual({ pieces: 12, jar: "1" });
  }, 20_000);
  await Promise.all([left.exchange.run(), right.exchange.run()]);
  expect(wire.server.rows).toHaveLength(2);
  await vi.waitFor(() => expect(right.logbook.status.value.unsent + left.logbook.status.value.unsent).toBe(0), 1000);
});

test("a phone that slept sends the next change at once, though its timer still waits", async () => {
  const wire = new Wire();
  const one = await phone(wire);
  await one.exchange.run(); // the next is planned in a minute
  vi.setSystemTime("2026-11-25T11:00:00.000Z"); // an hour later by the clock; timers stood still
  await say(one, { pieces: 12 });
  await vi.waitFor(() => expect(wire.server.rows).toHaveLength(1), { timeout: 3000 });
});
