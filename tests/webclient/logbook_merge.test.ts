import fc from "fast-check";
import { acknowledged, fold, seen, shown, upgrade, withOffer } from "src/logbook/merge";
import type { Arrival, Change, Field, Row, Value } from "src/logbook/model";
import { expect, test } from "vitest";

const RUNS = { numRuns: 2000 };

function change(part: Partial<Change> & { id: string }): Change {
  const made = "2026-11-25T10:00:00.000Z";
  return { v: 1, kind: "soak", record: "r", device: "d", made, set: {}, saw: {}, back: false, ...part };
}

function field(part: Partial<Field> & { change: string }): Field {
  return { value: 1, seq: 1, when: "2026-11-25T09:00:00.000Z", back: false, saw: null, ...part };
}

const row = (fields: Row["fields"]): Row => ({ kind: "soak", id: "r", fields });

const values = (one: Row | undefined): Record<string, Value> =>
  Object.fromEntries(Object.entries(one?.fields ?? {}).map(([name, { value }]) => [name, value]));

/** Rows of one record as a server may number them: seqs from 1, each winning some of its fields. */
const arrivals = fc
  .array(
    fc.record({
      set: fc.dictionary(fc.constantFrom("a", "b", "c"), fc.integer(), { minKeys: 1 }),
      wins: fc.subarray(["a", "b", "c"]),
      back: fc.boolean(),
    }),
    { maxLength: 8 },
  )
  .map((all) =>
    all.map(({ set, wins, back }, index): Arrival => ({
      ...{ id: `c${index}`, seq: index + 1, kind: "soak", record: "r", when: "2026-11-25T09:00:00.000Z" },
      ...{ set, saw: {}, back, won: wins.filter((name) => name in set) },
    })),
  );

test("the base is the same in whatever order and however often the rows arrive", () => {
  const schedule = arrivals.chain((all) =>
    fc.tuple(
      fc.constant(all),
      fc.shuffledSubarray([...all, ...all], { minLength: all.length * 2, maxLength: all.length * 2 }),
    ),
  );
  fc.assert(
    fc.property(schedule, ([inOrder, mixed]) => {
      const run = (some: Arrival[]) => some.reduce<Row | undefined>(fold, undefined);
      expect(run(mixed)?.fields ?? {}).toEqual(run(inOrder)?.fields ?? {});
    }),
    RUNS,
  );
});

test("what one has written stays in view, whatever the server tells of others, until it is acknowledged", () => {
  fc.assert(
    fc.property(arrivals, fc.integer(), (all, mine) => {
      const own = change({ id: "mine", set: { a: mine }, saw: { a: null } });
      let base: Row | undefined;
      for (const arrival of all) {
        base = fold(base, arrival);
        expect(values(shown(base, [own])).a).toBe(mine);
      }
    }),
    RUNS,
  );
});

test("the fields that the outbox does not touch are shown as the server said them", () => {
  fc.assert(
    fc.property(arrivals, (all) => {
      const base = all.reduce<Row | undefined>(fold, undefined);
      const own = change({ id: "mine", set: { a: 1 } });
      const { a: _mine, ...others } = values(shown(base, [own]));
      const { a: _theirs, ...said } = values(base);
      expect(others).toEqual(said);
    }),
    RUNS,
  );
});

test("an acknowledged change shows at once what it won, and the named winner where it lost", () => {
  const own = change({ id: "mine", set: { pieces: 12, jar: "1" } });
  const winner = { value: "2", change: "theirs", seq: 6, when: "2026-11-25T11:00:00.000Z" };
  const answer = { id: "mine", seq: 7, when: own.made, won: ["pieces"], lost: { jar: winner } };
  expect(values(acknowledged(undefined, own, answer))).toEqual({ pieces: 12, jar: "2" });
});

test("an acknowledgement that comes late leaves a newer row of the server as it is", () => {
  const newer = row({ pieces: field({ change: "theirs", seq: 9, value: 20 }) });
  const own = change({ id: "mine", set: { pieces: 12 } });
  const answer = { id: "mine", seq: 7, when: own.made, won: ["pieces"], lost: {} };
  expect(values(acknowledged(newer, own, answer))).toEqual({ pieces: 20 });
});

test("of two unsent changes the one written later is shown", () => {
  const first = change({ id: "1", set: { note: "soft" } });
  const second = change({ id: "2", set: { note: "good" }, saw: { note: "1" }, made: "1970-01-01T00:00:00.000Z" });
  expect(values(shown(undefined, [first, second]))).toEqual({ note: "good" });
});

test("a take-back shows the earlier value over the change that it takes back", () => {
  const wrong = change({ id: "1", set: { note: "wrong" }, saw: { note: "0" } });
  const back = change({ id: "2", set: { note: "right" }, saw: { note: "1" }, back: true });
  expect(values(shown(row({ note: field({ change: "0", value: "right" }) }), [wrong, back]))).toEqual({ note: "right" });
});

test("a take-back does not undo what another device wrote after", () => {
  const base = row({ note: field({ change: "theirs", value: "by the tablet", seq: 8 }) });
  const back = change({ id: "2", set: { note: "right" }, saw: { note: "1" }, back: true });
  expect(values(shown(base, [back]))).toEqual({ note: "by the tablet" });
});

test("a removed record is shown again only by removed: false", () => {
  const hidden = row({ removed: field({ change: "0", value: true }) });
  const edited = shown(hidden, [change({ id: "1", set: { note: "late" }, saw: { note: null } })]);
  expect(values(edited)).toEqual({ removed: true, note: "late" });
  const again = shown(edited, [change({ id: "2", set: { removed: false }, saw: { removed: "0" } })]);
  expect(values(again).removed).toBe(false);
});

test("while offers are on their way, the later `when` of base and offer is shown, field by field", () => {
  const base = row({ a: field({ change: "b1", value: "base", when: "2026-11-25T10:00:00.000Z" }), b: field({ change: "b2", value: "base" }) });
  const offer = row({ a: field({ change: "o1", value: "offer" }), b: field({ change: "o2", value: "offer", when: "2026-11-25T09:00:00.001Z" }), c: field({ change: "o3", value: "offer" }) });
  expect(values(withOffer(base, offer))).toEqual({ a: "base", b: "offer", c: "offer" });
});

test("a new change names what stood there when it was written", () => {
  const under = row({ pieces: field({ change: "p" }) });
  expect(seen(under, ["pieces", "note"])).toEqual({ pieces: "p", note: null });
});

test("fields of a kind that nobody here knows are kept word for word", () => {
  fc.assert(
    fc.property(fc.jsonValue({ maxDepth: 4 }), (value) => {
      const arrival: Arrival = { id: "1", seq: 1, kind: "from_next_year", record: "r", when: "x", set: { odd: value as Value }, saw: {}, back: false, won: ["odd"] };
      expect(fold(undefined, arrival).fields.odd?.value).toEqual(value);
    }),
    RUNS,
  );
});

test("a record of an older kind is read as this version reads it, and others are left alone", () => {
  const old = row({ grams: field({ change: "1", value: 3 }) });
  const upgrades = { soak: (fields: Row["fields"]) => ({ ...fields, ...(fields.grams && { mass_g: fields.grams }) }) };
  expect(values(upgrade(old, upgrades))).toEqual({ grams: 3, mass_g: 3 });
  expect(upgrade({ ...old, kind: "note" }, upgrades).fields).toEqual(old.fields);
});
