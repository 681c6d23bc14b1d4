/** How many came out of each stage of each batch? Tallies, and for profiling the pieces as well. */

import { count, flag, type Derived, type Entries, type Fields, numbers, type Outcome, text } from "./model";

type Stands = Record<string, Record<string, Record<Outcome, number>>>;

export const lostOf = (tally: Fields): number =>
  Object.values(numbers(tally, "lost_by")).reduce((sum, n) => sum + n, 0);

/** Good ones as written; where only the start and the losses are, the rest were good. */
export function goodOf(tally: Fields): number {
  const good = count(tally, "good");
  return (
    good ?? Math.max(0, (count(tally, "started") ?? 0) - (count(tally, "second_count") ?? 0) - lostOf(tally))
  );
}

/** By batch, by stage; an opening count of an edge belongs to no batch. */
export function standsOf(entries: Entries, outcome: Derived["outcome"]): Stands {
  const found: Stands = {};
  const at = (batch: string, stage: string): Record<Outcome, number> => {
    const stages = found[batch] ?? {};
    const stood = stages[stage] ?? { good: 0, second: 0, lost: 0 };
    stages[stage] = stood;
    found[batch] = stages;
    return stood;
  };
  for (const { fields } of entries["tally"] ?? []) {
    const [batch, stage] = [text(fields, "batch"), text(fields, "stage")];
    if (batch === null || stage === null || fields["removed"] === true) continue;
    const stood = at(batch, stage);
    stood.good += goodOf(fields);
    stood.second += count(fields, "second_count") ?? 0;
    stood.lost += lostOf(fields);
  }
  for (const { id, fields } of entries["piece"] ?? []) {
    const [batch, came] = [text(fields, "batch"), outcome[id]];
    if (batch !== null && came !== undefined) at(batch, "profiled")[came] += 1;
  }
  return found;
}

/** Was the tally work at the machine, written up later? */
export const isWrittenUp = (tally: Fields): boolean =>
  text(tally, "stage") === "profiled" && flag(tally, "opening") !== true;
