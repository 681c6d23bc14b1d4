/**
 * What if the browser loses the whole store? What waits to be sent is kept a second time, in a store of its own.
 *
 * Chromium's database goes on writing behind a record that a kill cut off; when it is read after the next kill, the
 * checksum is wrong there and all that it holds is thrown away. A storage bucket has a database of its own, which is
 * written after the first has its entry: no kill cuts off both. WebKit and Firefox have other databases, and no buckets.
 */

import type { Change } from "./model";
import { begun } from "./read_in";
import { type OutboxEntry, readMeta, Store } from "./store";

type Buckets = { open(name: string): Promise<{ indexedDB: IDBFactory }> };

const NAME = "unsent";

/** Where it fails the first copy is there: nothing here is told to the maker. */
export class SecondCopy {
  /** `store`: null in a browser without storage buckets */
  constructor(private readonly store: Store | null) {}

  async add(changes: readonly Change[]): Promise<void> {
    await this.store?.add(changes).catch(() => undefined);
  }

  /** These wait no longer. */
  async forget(ids: readonly string[]): Promise<void> {
    if (ids.length === 0) return;
    const forgotten = this.store?.inOne(async (all) => {
      const outbox = all.objectStore("outbox");
      for (const id of ids) {
        const n = await outbox.index("id").getKey(id);
        if (n !== undefined) await outbox.delete(n);
      }
    });
    await forgotten?.catch(() => undefined);
  }

  /** A kill may have come between the two copies, and another tab may have heard what was acknowledged. */
  async align(first: Store, device: string): Promise<void> {
    if (!this.store) return;
    await begun(this.store, device);
    const here = await outboxOf(this.store); // before the first: another tab may write to both meanwhile
    const waiting = await outboxOf(first);
    const ids = new Set(waiting.map(({ id }) => id));
    await this.forget(here.map(({ id }) => id).filter((id) => !ids.has(id)));
    await this.add(waiting.map(({ change }) => change));
  }

  /** Puts into the first store, which is empty, what is here; `device` is null where nothing ever was. */
  async bringBack(first: Store): Promise<{ device: string | null; outbox: OutboxEntry[] }> {
    const known = await this.store?.read((all) => readMeta(all.objectStore("meta"))).catch(() => null);
    if (!this.store || !known) return { device: null, outbox: [] };
    const outbox = await outboxOf(this.store);
    await first.add(outbox.map(({ change }) => change));
    return { device: known.device, outbox };
  }
}

function outboxOf(store: Store): Promise<OutboxEntry[]> {
  return store.read((all) => all.objectStore("outbox").getAll());
}

export function secondCopy(): SecondCopy {
  const { storageBuckets } = (globalThis.navigator ?? {}) as { storageBuckets?: Buckets };
  if (!storageBuckets) return new SecondCopy(null);
  const factory = async () => (await storageBuckets.open(NAME)).indexedDB;
  return new SecondCopy(new Store(NAME, undefined, factory));
}
