/** What was written by mistake goes out of sight with all that was written inside it, and comes back with it. */

import { isRemoved } from "./merge";
import { text } from "./read";
import { logbook } from "./state";

/** `removed_with`: what a record was hidden with, so that what had been taken back before stays so. */
function hide(kind: string, record: string, removed: boolean): void {
  const parts = ["piece", "reading", "blade_move"]
    .flatMap((each) => logbook.all(each))
    .filter((row) =>
      removed
        ? !isRemoved(row) && ["session", "inside_record", "blade"].some((name) => text(row, name) === record)
        : text(row, "removed_with") === record,
    );
  logbook.write([
    { kind, record, set: { removed } },
    ...parts.map((row) => ({
      kind: row.kind,
      record: row.id,
      set: { removed, removed_with: removed ? record : null },
    })),
  ]);
}

export const neverWas = (kind: string, record: string): void => hide(kind, record, true);
export const showAgain = (kind: string, record: string): void => hide(kind, record, false);
