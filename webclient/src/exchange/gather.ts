/** What goes to the server next? After a restore the offers first, then what was acknowledged, then the outbox. */

import type { Kept, Row } from "../logbook/model";
import { readMeta, type Store } from "../logbook/store";
import type { Offer, Request, SentAgain } from "./wire";

const MOST = 100;
const MOST_BYTES = 300_000; // well under the server's 1 MiB, so that a slow link gets through
const PULL = 500;

/** As many as fit; one that is too large by itself goes alone, for the server to refuse. */
function fitting<T>(all: readonly T[]): T[] {
  let bytes = 0;
  const taken: T[] = [];
  for (const one of all) {
    bytes += JSON.stringify(one).length;
    if (taken.length > 0 && bytes > MOST_BYTES) break;
    taken.push(one);
  }
  return taken;
}

function offersOf(row: Row): Offer[] {
  return Object.entries(row.fields).map(([field, { value, change, when, back, saw }]) => ({
    ...{ kind: row.kind, record: row.id, field },
    ...{ value, change, when, back, saw },
  }));
}

function asSentAgain({ change, when, won }: Kept): SentAgain {
  return { ...change, given: { when, lost: Object.keys(change.set).filter((name) => !won.includes(name)) } };
}

/** null where this phone has no device id yet. `most`: how many changes at a time. */
export function gather(store: Store, device_now: string, most = MOST): Promise<Request | null> {
  return store.read(async (all) => {
    const known = await readMeta(all.objectStore("meta"));
    if (!known) return null;
    const request: Request = {
      device: known.device,
      device_now,
      logbook: known.logbook,
      end: known.end,
      after: known.cursor,
      limit: PULL,
      offers: [],
      changes: [],
    };
    if (known.logbook === null) return request; // a new device asks first whose logbook this is
    const offers: Row[] = await all.objectStore("offers").getAll(undefined, most);
    if (offers.length > 0) return { ...request, offers: fitting(offers.flatMap(offersOf)) };
    const again = await all.objectStore("kept").index("again").getAll(1, most);
    if (again.length > 0) {
      const changes = again.map(asSentAgain);
      return { ...request, changes: fitting(changes) };
    }
    const outbox = await all.objectStore("outbox").getAll(undefined, most);
    return { ...request, changes: fitting(outbox.map(({ change }) => change)) };
  });
}
