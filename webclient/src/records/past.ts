/** What was written here before, and what was written by two who had not heard of each other? */

import type { Change, Row, Value } from "../logbook/model";

export interface PastField {
  name: string;
  value: Value;
  /** it is what the record says now */
  stands: boolean;
  /** somebody else wrote without having seen it, and theirs stands: what stands now */
  other: { value: Value } | null;
}

export interface Past {
  change: string;
  made: string;
  device: string;
  back: boolean;
  fields: PastField[];
}

/** The workshop's past of a record in its order, and behind it what only this phone holds. */
export function together(theirs: readonly Change[], ours: readonly Change[]): Change[] {
  const known = new Set(theirs.map(({ id }) => id));
  return [...theirs, ...ours.filter(({ id }) => !known.has(id))];
}

/** The changes of one record that this phone still holds, newest first, each field with what became of it. */
export function pastOf(row: Row | undefined, changes: readonly Change[]): Past[] {
  const seenLater = new Set<string>();
  for (const change of changes)
    for (const [name, saw] of Object.entries(change.saw)) if (saw) seenLater.add(`${saw}/${name}`);
  return changes
    .map((change): Past => {
      const fields = Object.entries(change.set).map(([name, value]): PastField => {
        const standing = row?.fields[name];
        const stands = standing?.change === change.id;
        const replaced = standing?.saw === change.id || seenLater.has(`${change.id}/${name}`);
        return {
          name,
          value,
          stands,
          other: !stands && !replaced && standing ? { value: standing.value } : null,
        };
      });
      return { change: change.id, made: change.made, device: change.device, back: change.back, fields };
    })
    .reverse();
}

/** The fields of a removed record that somebody wrote after it was removed. */
export function writtenSince(row: Row): string[] {
  const removed = row.fields["removed"];
  if (!removed) return [];
  const after = (seq: number | null, when: string): boolean =>
    (seq ?? Infinity) > (removed.seq ?? Infinity) ||
    (seq === null && removed.seq === null && when > removed.when);
  return Object.entries(row.fields)
    .filter(([name, field]) => name !== "removed" && after(field.seq, field.when))
    .map(([name]) => name);
}
