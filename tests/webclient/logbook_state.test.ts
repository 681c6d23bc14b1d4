import { afterEach, expect, test, vi } from "vitest";
import { freshName, phone, say, shownOf, Wire } from "./phones";
import { Logbook } from "src/logbook/state";
import { Store } from "src/logbook/store";

afterEach(() => vi.restoreAllMocks());

test("what is written is shown before the store has it, and saved after", async () => {
  const one = await phone(new Wire());
  const saved = say(one, { pieces: 12 });
  expect(shownOf(one)).toEqual({ pieces: 12 });
  expect(one.logbook.status.value.keeping).toBe("saving");
  await saved;
  expect(one.logbook.status.value).toMatchObject({ keeping: "saved", unsent: 1 });
});

test("all edits of one call are kept together or not at all", async () => {
  const one = await phone(new Wire());
  const add = vi.spyOn(IDBObjectStore.prototype, "add");
  let calls = 0;
  add.mockImplementation(function (this: IDBObjectStore, value: unknown) {
    calls += 1;
    if (calls % 2 === 0) throw new DOMException("full", "QuotaExceededError");
    return this.put(value);
  });
  void one.logbook.write([
    { kind: "soak", record: "a", set: { pieces: 1 } },
    { kind: "soak", record: "b", set: { pieces: 2 } },
  ]);
  await vi.waitFor(() => expect(one.logbook.status.value.keeping).toBe("not_saved"));
  expect(await one.store.read((all) => all.objectStore("outbox").getAll())).toEqual([]);
  expect(one.logbook.rows("soak")).toHaveLength(2);
  add.mockRestore();
  one.logbook.tryNow();
  await vi.waitFor(() => expect(one.logbook.status.value.keeping).toBe("saved"));
  expect(await one.store.read((all) => all.objectStore("outbox").getAll())).toHaveLength(2);
});

test("a change keeps what it saw, across calls and within one", async () => {
  const one = await phone(new Wire());
  const [first] = one.logbook.write([{ kind: "soak", record: "r", set: { a: 1 } }]).changes;
  const [second] = one.logbook.write([
    { kind: "soak", record: "r", set: { a: 2 } },
    { kind: "soak", record: "r", set: { a: 3, b: 1 } },
  ]).changes;
  await vi.waitFor(() => expect(one.logbook.status.value.keeping).toBe("saved"));
  const made = await one.logbook.history("soak", "r");
  expect(made.map(({ saw }) => saw)).toEqual([{ a: null }, { a: first }, { a: second, b: null }]);
});

test("a field may carry the id of the change that sets it", async () => {
  const one = await phone(new Wire());
  const { changes, saved } = one.logbook.write([
    { kind: "piece", record: "p", set: (id) => ({ [`outcome/${id}`]: "good" }) },
  ]);
  await saved;
  expect(shownOf(one, "p", "piece")).toEqual({ [`outcome/${changes[0]}`]: "good" });
});

test("a take-back brings the earlier value back at once", async () => {
  const one = await phone(new Wire());
  await say(one, { note: "good" });
  await say(one, { note: "wrong" });
  await one.logbook.takeBack("soak", "r", { note: "good" }).saved;
  expect(shownOf(one)).toEqual({ note: "good" });
});

test("removed records are in no list and still there by name", async () => {
  const one = await phone(new Wire());
  await say(one, { note: "x" }, "a");
  await say(one, { removed: true }, "a");
  await say(one, { note: "y" }, "b");
  expect(one.logbook.rows("soak").map(({ id }) => id)).toEqual(["b"]);
  expect(shownOf(one, "a")).toEqual({ note: "x", removed: true });
});

test("records come in the order of their ids, however many are written at once", async () => {
  const one = await phone(new Wire());
  const names = Array.from({ length: 60 }, (_, n) => `r${String((n * 37) % 60).padStart(2, "0")}`);
  one.logbook.write(names.map((record) => ({ kind: "soak", record, set: { pieces: 1 } })));
  expect(one.logbook.rows("soak").map(({ id }) => id)).toEqual([...names].sort());
});

test("a phone that is opened again shows what it was told, under the same device id", async () => {
  const name = freshName();
  const one = await phone(new Wire(), name);
  await say(one, { pieces: 12 });
  const again = await phone(new Wire(), name);
  expect(shownOf(again)).toEqual({ pieces: 12 });
  expect(again.logbook.device).toBe(one.logbook.device);
  expect(again.logbook.status.value.unsent).toBe(1);
});

test("what is written while the store will not open is kept once it does", async () => {
  const open = vi.spyOn(indexedDB, "open").mockImplementation(() => {
    throw new DOMException("broken", "UnknownError");
  });
  const logbook = new Logbook(new Store(freshName()));
  await logbook.open();
  const { saved } = logbook.write([{ kind: "soak", record: "r", set: { pieces: 12 } }]);
  await vi.waitFor(() => expect(logbook.status.value.keeping).toBe("not_saved"));
  expect(shownOf({ logbook })).toEqual({ pieces: 12 });
  open.mockRestore();
  logbook.tryNow();
  await saved;
  const kept = await logbook.store.read((all) => all.objectStore("outbox").getAll());
  expect(kept.map(({ change }) => change.device)).toEqual([logbook.device]);
});
