import fc from "fast-check";
import { afterEach, beforeEach, expect, test, vi } from "vitest";
import { honest, json, type Network, type Phone, phone, say, shownOf, Wire } from "./phones";

beforeEach(() => vi.useFakeTimers({ toFake: ["Date"], now: Date.parse("2026-11-25T10:00:00.000Z") }));
afterEach(() => vi.useRealTimers());

/** The request is taken, the answer is cut: the worst moment for a connection to go. */
const cut: Network = (request, server) => {
  server.answer(request);
  throw new TypeError("network");
};

const step = fc.oneof(
  { weight: 5, arbitrary: fc.record({ does: fc.constant("write" as const), who: fc.nat(1), field: fc.constantFrom("a", "b"), skew_ms: fc.constantFrom(0, 0, -3e11, 3e11) }) },
  { weight: 1, arbitrary: fc.record({ does: fc.constant("take back" as const), who: fc.nat(1), field: fc.constantFrom("a", "b") }) },
  { weight: 3, arbitrary: fc.record({ does: fc.constant("exchange" as const), who: fc.nat(1), isCut: fc.boolean() }) },
  { weight: 1, arbitrary: fc.record({ does: fc.constant("restore" as const), share: fc.double({ min: 0, max: 1, noNaN: true }) }) },
);

test("whatever two phones write, take back, lose on the way and restore, they end equal and nothing is lost", async () => {
  let values = 0;
  await fc.assert(
    fc.asyncProperty(fc.array(step, { maxLength: 25 }), async (steps) => {
      const wire = new Wire();
      wire.server.now = "2026-11-25T18:00:00.000Z";
      const phones: [Phone, Phone] = [await phone(wire), await phone(wire)];
      const written: string[] = [];
      let restores = 0;
      let time = Date.parse("2026-11-25T10:00:00.000Z");
      for (const one of steps) {
        vi.setSystemTime((time += 1000));
        if (one.does === "restore") {
          restores += 1;
          wire.server.restore(Math.floor(wire.server.rows.length * one.share), `logbook-${restores + 1}`);
          continue;
        }
        const who = phones[one.who === 0 ? 0 : 1];
        if (one.does === "exchange") {
          wire.network = one.isCut ? cut : honest;
          await who.exchange.run();
          wire.network = honest;
        } else if (one.does === "take back") {
          await who.logbook.takeBack("soak", "r", { [one.field]: null }).saved;
        } else {
          vi.setSystemTime(time + one.skew_ms);
          const { changes, saved } = who.logbook.write([{ kind: "soak", record: "r", set: { [one.field]: ++values } }]);
          await saved;
          written.push(...changes);
          expect(shownOf(who)[one.field]).toBe(values);
        }
      }
      for (let round = 0; round < 3; round++) for (const one of phones) await one.exchange.run();
      const [left, right] = phones;
      expect(shownOf(left)).toEqual(shownOf(right));
      expect(shownOf(left)).toEqual(wire.server.record("soak", "r"));
      expect(left.logbook.status.value.unsent + right.logbook.status.value.unsent).toBe(0);
      const held = new Set(wire.server.rows.map((row) => row.id));
      expect(written.filter((id) => !held.has(id))).toEqual([]);
    }),
    { numRuns: 150 },
  );
}, 120_000);

test("a newer change of one's own is shown at every moment, whatever the exchange does meanwhile", async () => {
  const wire = new Wire();
  const one = await phone(wire);
  wire.network = async (request, server) => {
    const answer = server.answer(request);
    await new Promise((done) => setTimeout(done, 3));
    return json(answer);
  };
  const seen: unknown[] = [];
  for (let n = 1; n <= 40; n++) {
    void one.exchange.run();
    await say(one, { n });
    seen.push(shownOf(one).n);
    await new Promise((done) => setTimeout(done, n % 4));
    seen.push(shownOf(one).n);
  }
  expect(seen).toEqual(Array.from({ length: 40 }, (_, n) => [n + 1, n + 1]).flat());
});
