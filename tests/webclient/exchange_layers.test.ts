import { apply } from "src/exchange/apply";
import { gather } from "src/exchange/gather";
import type { Answer, Offered, SentAgain } from "src/exchange/wire";
import type { Acknowledgement, Arrival, Change } from "src/logbook/model";
import { Logbook } from "src/logbook/state";
import { Store } from "src/logbook/store";
import { expect, test } from "vitest";
import table from "../shared_cases/phone_layers.json";
import { freshName, shownOf } from "./phones";

const AT = { kind: "soak", record: "r" };
const NOW = "2026-11-25T12:00:00.000Z";

interface Step {
  write?: Partial<Change> & { id: string };
  answer?: {
    accepted?: Acknowledgement[];
    offered?: Omit<Offered, "kind" | "record">[];
    refused?: { id: string; problem: string }[];
    changes?: (Partial<Arrival> & { id: string })[];
    cursor: number;
    safe?: number;
  };
  restored?: string;
}

interface Case {
  name: string;
  rule: string;
  steps: Step[];
  shown: Record<string, unknown>;
  kept?: string[];
  sends: { after: number; offers: string[]; changes: string[]; given?: unknown[] };
}

function answerOf(step: Step, logbook: string): Answer {
  const { accepted = [], offered = [], refused = [], changes = [], cursor = 0, safe = 0 } = step.answer ?? {};
  const given = { set: {}, saw: {}, back: false, when: NOW, won: [], seq: 0 };
  return {
    logbook: step.restored ?? logbook,
    restored: step.restored !== undefined,
    accepted,
    offered: offered.map((one) => ({ ...AT, ...one })),
    refused: refused.map((one) => ({ ...one, offer: false })),
    changes: changes.map((one) => ({ ...AT, ...given, ...one })),
    ...{ cursor, safe, more: false, now: NOW, end: { seq: cursor, hash: "h" } },
  };
}

/** A phone that has learned the logbook's name, brought through the steps of a case. */
async function after(steps: Step[]): Promise<Logbook> {
  const logbook = new Logbook(new Store(freshName()));
  await logbook.open();
  let name = "logbook-1";
  const exchanged = async (step: Step) => {
    const request = await gather(logbook.store, NOW);
    if (!request) throw new Error("no device");
    await apply(logbook.store, request, answerOf(step, name), NOW);
    name = step.restored ?? name;
    await logbook.rereadAll();
  };
  await exchanged({ answer: { cursor: 0 } });
  for (const step of steps) {
    if (!step.write) {
      await exchanged(step);
      continue;
    }
    const change: Change = { ...AT, v: 1, device: "d", made: NOW, set: {}, saw: {}, back: false, ...step.write };
    await logbook.store.add([change]);
    await logbook.rereadAll();
  }
  return logbook;
}

test.each(table as unknown as Case[])("$name (rule $rule)", async ({ steps, shown, kept, sends }) => {
  const logbook = await after(steps);
  expect(shownOf({ logbook })).toEqual(shown);
  const request = await gather(logbook.store, NOW);
  expect({
    after: request?.after,
    offers: request?.offers.map(({ field }) => field).sort(),
    changes: request?.changes.map(({ id }) => id),
  }).toEqual({ after: sends.after, offers: sends.offers, changes: sends.changes });
  if (sends.given) {
    expect(request?.changes.map((change) => (change as SentAgain).given)).toEqual(sends.given);
  }
  if (kept) {
    const held = await logbook.store.read((all) => all.objectStore("kept").getAll());
    expect(held.map(({ id }) => id)).toEqual(kept);
  }
});

test("a phone that turned to another logbook meanwhile takes nothing of a late answer", async () => {
  const logbook = await after([{ write: { id: "p1", set: { pieces: 1 }, saw: { pieces: null } } }]);
  const request = await gather(logbook.store, NOW);
  if (!request) throw new Error("no device");
  await apply(logbook.store, request, answerOf({ restored: "logbook-2" }, "logbook-1"), NOW);
  const accepted = [{ id: "p1", seq: 1, when: NOW, won: ["pieces"], lost: {} }];
  const late = await apply(logbook.store, request, answerOf({ answer: { accepted, cursor: 1 } }, "logbook-1"), NOW);
  expect(late.isStale).toBe(true);
  expect((await gather(logbook.store, NOW))?.changes.map(({ id }) => id)).toEqual(["p1"]);
});
