/** How many came out of each stage of each batch? Tallies, and for profiling the pieces as well. */

import type { Row } from "../logbook/model";
import { flag, text } from "../logbook/read";
import { count, counts, type Derived, type Entries, OUTCOMES, type Outcome, shown } from "./model";

type Stands = Record<string, Record<string, Record<Outcome, number>>>;

export const lostOf = (tally: Row): number => counts(tally, "lost_by").reduce((sum, [, n]) => sum + n, 0);

/** How many came out how; good where only the start and the losses are written: the rest. */
export function cameOut(tally: Row): Record<Outcome, number> {
  const [second, lost] = [count(tally, "second_count") ?? 0, lostOf(tally)];
  const good = count(tally, "good") ?? Math.max(0, (count(tally, "started") ?? 0) - second - lost);
  return { good, second, lost };
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
  for (const row of shown(entries, "tally")) {
    const [batch, stage] = [text(row, "batch"), text(row, "stage")];
    if (batch === null || stage === null) continue;
    const came = cameOut(row);
    for (const one of OUTCOMES) at(batch, stage)[one] += came[one];
  }
  for (const row of shown(entries, "piece")) {
    const [batch, came] = [text(row, "batch"), outcome[row.id]];
    if (batch !== null && came !== undefined) at(batch, "profiled")[came] += 1;
  }
  return found;
}

/** Was the tally work at the machine, written up later? */
export const isWrittenUp = (tally: Row): boolean =>
  text(tally, "stage") === "profiled" && flag(tally, "opening") !== true;
