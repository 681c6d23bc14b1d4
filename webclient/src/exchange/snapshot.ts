/** What does a new phone start from? What is in play and the last ninety days, in one go. */

import { withWinners } from "../logbook/merge";
import type { Row } from "../logbook/model";
import type { Logbook } from "../logbook/state";
import { readMeta, writeMeta } from "../logbook/store";
import { type Answer, readSnapshot } from "./wire";

const AT_ONCE = 500;

/** True where it was taken; else the phone fetches the changes from the first on. */
export async function takeSnapshot(
  logbook: Logbook,
  answer: Answer,
  fetcher: typeof fetch,
): Promise<boolean> {
  try {
    const response = await fetcher("/api/exchange/snapshot", { cache: "no-store", redirect: "error" });
    if (response.status !== 200) return false;
    const snapshot = readSnapshot(await response.text());
    if (!snapshot || snapshot.logbook !== answer.logbook) return false;
    for (let from = 0; from < snapshot.rows.length; from += AT_ONCE) {
      await put(logbook, snapshot.rows.slice(from, from + AT_ONCE));
    }
    await logbook.store.inOne(async (all) => {
      const meta = all.objectStore("meta");
      const known = await readMeta(meta);
      if (!known || known.logbook !== null) return;
      const { cursor, end } = snapshot;
      await writeMeta(meta, { ...known, logbook: snapshot.logbook, cursor, end, safe: answer.safe });
    });
    await logbook.rereadAll();
    return true;
  } catch {
    return false;
  }
}

/** A row laid over what is there field by field, so that a snapshot cut in the middle can be begun again. */
function put(logbook: Logbook, rows: readonly Row[]): Promise<void> {
  return logbook.store.inOne(async (all) => {
    const base = all.objectStore("base");
    for (const row of rows) {
      const winners = Object.fromEntries(
        Object.entries(row.fields).map(([name, field]) => [name, { ...field, seq: field.seq ?? 0 }]),
      );
      const held = await base.get([row.kind, row.id]);
      await base.put(withWinners(held ?? { ...row, fields: {} }, winners));
    }
  });
}
