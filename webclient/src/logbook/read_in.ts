/** What does this phone hold? All of it, read in when it is opened: what is counted comes last. */

import type { Row } from "./model";
import { type Meta, type OutboxEntry, type RefusedEntry, readMeta, type Store } from "./store";

export interface Found {
  /** null: on this phone nothing has been written yet */
  known: Meta | null;
  base: Row[];
  offers: Row[];
  outbox: OutboxEntry[];
  refused: RefusedEntry[];
}

/** Pieces and tallies are nine tenths of `base`; their keys end before an array, which is more than any text. */
const [PIECES, BEHIND_PIECES, TALLIES, BEHIND_TALLIES] = [["piece"], ["piece", []], ["tally"], ["tally", []]];

/** `onMost` is given all but the pieces and the tallies while those are still on their way. */
export function readIn(
  store: Store,
  onMost: (found: Found) => void,
): Promise<{ found: Found; counted: Row[] }> {
  return store.read(async (all) => {
    const base = all.objectStore("base");
    const asked = Promise.all([
      base.getAll(IDBKeyRange.upperBound(PIECES)),
      base.getAll(IDBKeyRange.bound(BEHIND_PIECES, TALLIES)),
      base.getAll(IDBKeyRange.lowerBound(BEHIND_TALLIES)),
      all.objectStore("offers").getAll(),
      all.objectStore("outbox").getAll(),
      all.objectStore("refused").getAll(),
      readMeta(all.objectStore("meta")),
    ]);
    const counted = Promise.all([
      base.getAll(IDBKeyRange.bound(PIECES, BEHIND_PIECES)),
      base.getAll(IDBKeyRange.bound(TALLIES, BEHIND_TALLIES)),
    ]);
    counted.catch(() => undefined); // where one fails all do, and it is told once
    const [first, between, last, offers, outbox, refused, known] = await asked;
    const found = { known, base: [...first, ...between, ...last], offers, outbox, refused };
    onMost(found);
    return { found, counted: (await counted).flat() };
  });
}

/** These records, and all that waits to be sent. */
export function readAgain(store: Store, touched: readonly (readonly [string, string])[]) {
  return store.read(async (all) => {
    const rows = touched.map(async ([kind, id]) => ({
      kind,
      id,
      base: await all.objectStore("base").get([kind, id]),
      offer: await all.objectStore("offers").get([kind, id]),
    }));
    return { rows: await Promise.all(rows), outbox: await all.objectStore("outbox").getAll() };
  });
}

/** All changes that this phone still holds, in the order made. */
export function readPast(store: Store) {
  return store.read(async (all) => [
    ...(await all.objectStore("kept").getAll()),
    ...(await all.objectStore("outbox").getAll()),
  ]);
}

/** The first time on this phone it gets its id; another tab may have been quicker. */
export function begun(store: Store, device: string): Promise<Meta | null> {
  return store.inOne(async (all) => {
    const meta = all.objectStore("meta");
    if (!(await readMeta(meta))) await meta.put(device, "device");
    return readMeta(meta);
  });
}
