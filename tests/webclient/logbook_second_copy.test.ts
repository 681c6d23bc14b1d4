import { expect, test } from "vitest";
import { freshName, phone, say, shownOf, Wire } from "./phones";
import { SecondCopy } from "src/logbook/second_copy";
import { Logbook } from "src/logbook/state";
import { Store } from "src/logbook/store";

interface Kept {
  logbook: Logbook;
  store: Store;
  copy: Store;
}

async function opened(first = freshName(), second = freshName()): Promise<Kept> {
  const [store, copy] = [new Store(first), new Store(second)];
  const logbook = new Logbook(store, new SecondCopy(copy));
  await logbook.open();
  await logbook.keepTwice();
  return { logbook, store, copy };
}

async function idsIn(store: Store): Promise<string[]> {
  return (await store.read((all) => all.objectStore("outbox").getAll())).map(({ id }) => id);
}

async function lost(name: string): Promise<void> {
  await new Promise((done) => {
    indexedDB.deleteDatabase(name).onsuccess = done;
  });
}

test("what was saved is here again after the browser has lost the store, in the order made, under the same device", async () => {
  const [first, second] = [freshName(), freshName()];
  const before = await opened(first, second);
  for (const pieces of [1, 2, 3]) await say(before, { pieces });
  const ids = await idsIn(before.store);
  before.store.drop();
  await lost(first);
  const after = await opened(first, second);
  expect(shownOf(after)).toEqual({ pieces: 3 });
  expect(await idsIn(after.store)).toEqual(ids);
  expect(after.logbook.device).toBe(before.logbook.device);
  expect(after.logbook.status.value).toMatchObject({ keeping: "saved", unsent: 3 });
  expect(after.logbook.questions.value.map(({ kind }) => kind)).toEqual(["brought_back"]);
});

test("a phone that starts for the first time is told of no loss", async () => {
  expect((await opened()).logbook.questions.value).toEqual([]);
});

test("nothing counts as saved before it is kept twice", async () => {
  const one = await opened();
  const { saved } = one.logbook.write([{ kind: "soak", record: "r", set: { pieces: 12 } }]);
  expect(one.logbook.status.value.keeping).toBe("saving");
  await saved;
  expect(await idsIn(one.copy)).toEqual(await idsIn(one.store));
  expect(await idsIn(one.copy)).toHaveLength(1);
});

test("what the workshop has acknowledged is kept twice no longer", async () => {
  const wire = new Wire();
  const copy = new Store(freshName());
  const one = await phone(wire, freshName(), new SecondCopy(copy));
  await say(one, { pieces: 12 });
  expect(await idsIn(copy)).toHaveLength(1);
  await one.exchange.run();
  expect(one.logbook.status.value.unsent).toBe(0);
  await expect.poll(() => idsIn(copy)).toEqual([]);
});

test("what was killed between the two copies is kept twice from the next start on", async () => {
  const [first, second] = [freshName(), freshName()];
  const before = await opened(first, second);
  await say(before, { pieces: 1 });
  const [id = ""] = await idsIn(before.copy);
  await new SecondCopy(before.copy).forget([id]);
  expect(await idsIn(before.copy)).toEqual([]);
  const after = await opened(first, second);
  expect(await idsIn(after.copy)).toEqual([id]);
});

test("what another tab heard acknowledged is put away at the next start", async () => {
  const [first, second] = [freshName(), freshName()];
  const before = await opened(first, second);
  await say(before, { pieces: 1 });
  await before.store.inOne((all) => all.objectStore("outbox").clear());
  const after = await opened(first, second);
  expect(await idsIn(after.copy)).toEqual([]);
});

test("a second copy that takes nothing keeps nobody from saving", async () => {
  const broken = new Store(freshName(), undefined, () => {
    throw new DOMException("no room", "QuotaExceededError");
  });
  const logbook = new Logbook(new Store(freshName()), new SecondCopy(broken));
  await logbook.open();
  await logbook.keepTwice();
  await say({ logbook }, { pieces: 12 });
  expect(logbook.status.value).toMatchObject({ keeping: "saved", unsent: 1 });
});
