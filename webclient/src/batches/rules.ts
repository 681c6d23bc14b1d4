/** Where does each batch stand, and which stage waits longest? */
import { type Batch, type Comes, type Lot, STAGES, type Stage, type Tally } from "./model";

/** What was tapped at the bench, of one batch: how many came off, and how; when the last did. */
export interface Cut {
  good: number;
  second: number;
  lost: number;
  last: string | null;
}

export const NOTHING_CUT: Cut = { good: 0, second: 0, lost: 0, last: null };

export interface StageStands {
  stage: Stage;
  /** How many came through this stage good or as seconds; null: it was never written up. */
  passed: number | null;
  started: number;
  lost: number;
  second: number;
  /** How many lie after this stage now, waiting for the next. */
  lying: number;
  last: string | null;
}

export interface Stands {
  stages: StageStands[];
  /** The stage that comes next, and how many pieces wait for it; null: all is finished or lost. */
  next: { stage: Stage; pieces: number; since: string | null } | null;
  started: number;
  good: number;
}

export const lostOf = (tally: Tally): number =>
  Object.values(tally.lostBy).reduce((sum, count) => sum + count, 0);

/** The stages a batch goes through: its own order, else the maker's, else the usual. */
export const stagesOf = (batch: Batch, workshop: readonly Stage[]): Stage[] =>
  batch.stages ?? (workshop.length ? [...workshop] : [...STAGES]);

/** The stage that the cane had behind it when it came; null: as tube. */
export function cameAs(batch: Batch, lot: Lot | null): Stage | null {
  if (batch.firstStage) return batch.firstStage;
  const comes: Comes = lot?.comes ?? "gouged";
  return comes === "tube" ? null : comes;
}

export function whereStands(
  batch: Batch,
  lot: Lot | null,
  workshop: readonly Stage[],
  tallies: readonly Tally[],
  cut: Cut,
): Stands {
  const order = stagesOf(batch, workshop);
  const came = cameAs(batch, lot);
  const entry = came ? order.indexOf(came) : -1;
  const begun = batch.pieces ?? 0;
  const own = tallies.filter((tally) => tally.batch === batch.id);
  const stages = order.map((stage, index): StageStands => {
    const of = own.filter((tally) => tally.stage === stage);
    const tapped = stage === "profiled" ? cut : NOTHING_CUT;
    const started = sum(of, (tally) => tally.started) + tapped.good + tapped.second + tapped.lost;
    const second = sum(of, (tally) => tally.second) + tapped.second;
    const passed = sum(of, (tally) => tally.good) + tapped.good + second;
    const last = [...of.map((tally) => tally.at), tapped.last].reduce<string | null>(
      (a, b) => (b && (!a || b > a) ? b : a),
      null,
    );
    const known = started > 0;
    const given = !known && index === entry ? begun : null;
    return {
      stage,
      passed: known ? passed : given,
      started: known ? started : (given ?? 0),
      lost: known ? Math.max(0, started - passed) : 0,
      second,
      lying: 0,
      last,
    };
  });
  let ahead = 0;
  for (let index = stages.length - 1; index >= 0; index -= 1) {
    const one = stages[index];
    if (!one) continue;
    if (one.passed === null && index >= entry && ahead === 0) continue;
    one.lying = Math.max(0, (one.passed ?? 0) - ahead);
    if (one.passed !== null) ahead = one.started;
  }
  const firstWritten = stages.findIndex((one) => one.passed !== null);
  const waitingAtStart = firstWritten === -1 ? begun : 0;
  let next: Stands["next"] = null;
  stages.forEach((one, index) => {
    const after = stages[index + 1];
    if (!next && after && one.lying > 0) next = { stage: after.stage, pieces: one.lying, since: one.last };
  });
  const first = stages[0];
  if (!next && waitingAtStart > 0 && first)
    next = { stage: first.stage, pieces: waitingAtStart, since: null };
  const profiled = stages.find((one) => one.stage === "profiled");
  return { stages, next, started: begun, good: (profiled?.passed ?? 0) - (profiled?.second ?? 0) };
}

const sum = (tallies: readonly Tally[], of: (tally: Tally) => number): number =>
  tallies.reduce((total, tally) => total + of(tally), 0);

/** How many of a batch were profiled in all, tapped or written up. */
export const profiledOf = (batch: string, tallies: readonly Tally[], cut: Cut): number =>
  cut.good + cut.second + cut.lost + writtenUp(batch, "profiled", tallies);

export const writtenUp = (batch: string, stage: Stage, tallies: readonly Tally[]): number =>
  sum(
    tallies.filter((tally) => tally.batch === batch && tally.stage === stage),
    (tally) => tally.started,
  );

/** Pieces that the machine has still to cut; 1 where the batch does not say how many it has. */
export function leftToProfile(batch: Batch, stands: Stands, profiled: number): number {
  const at = stands.stages.findIndex((one) => one.stage === "profiled");
  const further = stands.stages.slice(Math.max(0, at)).some((one) => one.passed !== null) && profiled === 0;
  if (at === -1 || further) return 0;
  return batch.pieces === null ? 1 : Math.max(0, batch.pieces - profiled);
}

/** Of the batches not closed, the one whose pieces have waited longest; planned days count, `today` is a calendar day. */
export function waitsLongest<T extends { batch: Batch; stands: Stands }>(
  all: readonly T[],
  today: string,
): T | null {
  const waiting = all.filter(
    ({ batch, stands }) => !batch.closed && stands.next && !(batch.plannedDay && batch.plannedDay > today),
  );
  const since = (one: T): string =>
    one.stands.next?.since ?? (one.batch.plannedDay ? `${one.batch.plannedDay}T00` : "~");
  return [...waiting].sort((a, b) => (since(a) < since(b) ? -1 : since(a) > since(b) ? 1 : 0))[0] ?? null;
}

/** The batch for the bench: begun and not through, else planned for today, else overdue, else the next planned, else any. */
export function batchForBench<T extends { batch: Batch; left: number; begun: boolean; last: string | null }>(
  all: readonly T[],
  today: string,
): T | null {
  const open = all.filter(({ batch, left }) => !batch.closed && left > 0);
  const rank = ({ batch, begun }: T): number => {
    if (begun) return 0;
    if (batch.plannedDay === today) return 1;
    if (batch.plannedDay && batch.plannedDay < today) return 2;
    return batch.plannedDay ? 3 : 4;
  };
  const key = (one: T): string => (one.begun ? (one.last ?? "") : (one.batch.plannedDay ?? ""));
  return (
    [...open].sort((a, b) => {
      const byRank = rank(a) - rank(b);
      if (byRank) return byRank;
      const [ka, kb] = [key(a), key(b)];
      if (a.begun) return ka < kb ? 1 : -1;
      return ka < kb ? -1 : ka > kb ? 1 : 0;
    })[0] ?? null
  );
}

/** Newest first: planned day, else the order of making (ids carry it). Closed ones after the open. */
export const newestFirst = (batches: readonly Batch[]): Batch[] =>
  [...batches].sort((a, b) => {
    if (a.closed !== b.closed) return a.closed ? 1 : -1;
    const [da, db] = [a.plannedDay ?? "", b.plannedDay ?? ""];
    return da === db ? (a.id < b.id ? 1 : -1) : da < db ? 1 : -1;
  });

/** As they stand in the list: today's and the days before, newest first; then what is planned, the nearest first. */
export function asListed<T extends { batch: Batch }>(all: readonly T[], today: string): T[] {
  const isAhead = ({ batch }: T): boolean => batch.plannedDay !== null && batch.plannedDay > today;
  return [...all.filter((one) => !isAhead(one)), ...all.filter(isAhead).reverse()];
}

/** The next free label of a lot: D1, D2 … */
export function nextLabel(lot: string | null, batches: readonly Batch[]): string {
  const used = new Set(batches.map((batch) => batch.label));
  let number = 1;
  while (used.has(`${lot ?? ""}${number}`)) number += 1;
  return `${lot ?? ""}${number}`;
}

/** What a form to write up begins with: the batch's own number, else the last written up, else two dozen (common practice, no source). */
export function startingCount(left: number | null, last: Tally | null): number {
  if (left !== null && left > 0) return left;
  return last && last.started > 0 ? last.started : 24;
}

/** A tally that adds up: good is what is neither lost nor a second. */
export function tallied(
  started: number,
  second: number,
  lost: number,
): { good: number; second: number; lost: number } {
  const most = Math.max(0, started);
  const gone = Math.min(most, Math.max(0, lost));
  const kept = Math.min(most - gone, Math.max(0, second));
  return { good: most - gone - kept, second: kept, lost: gone };
}
