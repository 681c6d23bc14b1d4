/** What the maker is about to put in: as last time, one group of it, or another number. Pure. */
import type { Purpose, Soak, SoakHabit, Water } from "./model";
import { asLastTime, groups, nextGroup, PRESET_C, type PutIn, planned } from "./rules";

export interface LotFact {
  id: string;
  label: string;
}

/** `left`: pieces not yet in the water or cut; null: not said. */
export interface BatchFact {
  id: string;
  label: string;
  lot: string | null;
  left: number | null;
}

/** `next`: the batch that goes in next (planned for today, or begun); null: none stands ready. */
export interface DraftFacts {
  soaks: readonly Soak[];
  habit: SoakHabit;
  lots: readonly LotFact[];
  batches: readonly BatchFact[];
  next: BatchFact | null;
  now: number;
}

export type DraftChoice = "last" | "one" | "other";

/** What was touched on the screen; null: as it comes. "none": none on purpose. */
export interface Draft {
  choice: DraftChoice;
  pieces: number;
  water: Water | null;
  water_c: number | null;
  soak_s: number | null;
  purpose: Purpose | null;
  batch: string | null;
  lot: string | null;
  fresh: boolean;
}

/** The next group of a row under way; else as last time, for the batch whose turn it is; null: never soaked before. */
export function lastPlan(facts: DraftFacts): PutIn | null {
  const group = nextGroup(facts.soaks, facts.now);
  const first = group?.row[0];
  if (first) return { ...first, pieces: group.pieces, run: first.run ?? first.id };
  const last = asLastTime(facts.soaks);
  const batch = facts.next;
  if (last === null || batch === null || (batch.id === last.batch && last.purpose !== "profile")) return last;
  const of = batch.left ?? last.of_pieces ?? last.pieces;
  const pieces = last.pieces === null || of === null ? of : Math.min(last.pieces, of);
  const staggered = last.every_s !== null && pieces !== null && of !== null && of > pieces;
  return {
    ...last,
    batch: batch.id,
    lot: batch.lot,
    pieces,
    of_pieces: staggered ? of : null,
    every_s: staggered ? last.every_s : null,
  };
}

export function newDraft(facts: DraftFacts): Draft {
  const last = lastPlan(facts);
  return {
    choice: last === null ? "other" : "last",
    pieces: last?.pieces ?? facts.next?.left ?? 6,
    water: null,
    water_c: null,
    soak_s: null,
    purpose: null,
    batch: null,
    lot: null,
    fresh: false,
  };
}

export interface PutInOption {
  choice: DraftChoice;
  into: PutIn;
  of: number;
  groups: number;
  staggered: boolean;
}

/** The scribed ones above the stepper. */
export function optionsOf(facts: DraftFacts, draft: Draft): PutInOption[] {
  const last = lastPlan(facts);
  if (last === null || last.pieces === null) return [];
  const choices: DraftChoice[] = last.of_pieces === null || last.run ? ["last"] : ["last", "one"];
  return choices.map((choice) => {
    const into = intoOf(facts, { ...draft, choice });
    const staggered = into.of_pieces !== null && !into.run;
    const of = (staggered ? into.of_pieces : into.pieces) ?? 0;
    return {
      choice,
      into,
      of,
      groups: groups(of, into.pieces ?? of).length,
      staggered,
    };
  });
}

/** What goes in, if it is put in now. */
export function intoOf(facts: DraftFacts, draft: Draft): PutIn {
  const last = lastPlan(facts);
  const water = draft.water ?? last?.water ?? facts.habit.water ?? "warm";
  const isAsLast = last !== null && water === last.water;
  const batch = draft.batch === "none" ? null : (draft.batch ?? last?.batch ?? facts.next?.id ?? null);
  const lot =
    draft.lot === "none"
      ? null
      : (draft.lot ??
        facts.batches.find((each) => each.id === batch)?.lot ??
        last?.lot ??
        facts.next?.lot ??
        null);
  return {
    purpose: draft.purpose ?? last?.purpose ?? "profile",
    pieces: draft.choice === "other" ? draft.pieces : (last?.pieces ?? draft.pieces),
    of_pieces: draft.choice === "last" ? (last?.of_pieces ?? null) : null,
    every_s: draft.choice === "last" ? (last?.every_s ?? null) : null,
    run: draft.choice === "last" ? (last?.run ?? null) : null,
    lot,
    batch,
    water,
    water_c: draft.water_c ?? (isAsLast ? last.water_c : null) ?? PRESET_C[water],
    soak_s: draft.soak_s ?? (isAsLast ? last.soak_s : planned(water, facts.habit).soak_s),
  };
}
