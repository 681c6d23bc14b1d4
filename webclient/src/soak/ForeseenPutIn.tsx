/** How long should this cane stay in this water, and how are so many pieces staggered? Fills the time in; habit stays at hand. */
import { useLayoutEffect, useRef } from "preact/hooks";
import { go } from "../route";
import { Scribed } from "../workshop";
import { ForeseenPlan } from "./ForeseenPlan";
import { ROOM_C, toldFor } from "./foreseen_state";
import type { Told } from "./foreseen_told_rules";
import * as words from "./foreseen_words";
import type { Soak, SoakHabit, Water } from "./model";
import { type PutIn, planned } from "./rules";

/** A habit as near as this to the best time stays: the red thread is tied as wide. */
const AS_GOOD_S = 180;

export interface PutInFacts {
  into: PutIn;
  habit: SoakHabit;
  soaks: readonly Soak[];
  /** label of the lot */
  label: string | null;
  fresh: boolean;
  /** what the maker set, seconds; null: nothing yet */
  chosen_s: number | null;
  onSoak: (soak_s: number) => void;
}

export function ForeseenPutIn(p: PutInFacts) {
  const { into } = p;
  const told = toldFor(into.lot, into.water, into.water_c ?? ROOM_C);
  const usual = planned(into.water, p.habit);
  const fill_s = told?.fill_s ?? null;
  const filled = useRef<number | null>(null);
  const key = `${into.lot} ${into.water} ${into.water_c}`;
  // what was filled in for another lot or water gives way; what the maker set stays
  useLayoutEffect(() => {
    const isOurs = p.chosen_s === null || p.chosen_s === filled.current;
    const next_s = fill_s ?? (filled.current === null ? null : usual.soak_s);
    if (!isOurs || next_s === null || Math.abs(next_s - into.soak_s) <= AS_GOOD_S) return;
    filled.current = next_s;
    p.onSoak(next_s);
  }, [key, fill_s]);
  if (into.purpose !== "profile") return null;
  const label = told?.subject === "all" ? null : p.label;
  return (
    <section class="stack">
      <p>
        {told === null ? words.no_marks(p.label, 8) : said(told, into.water, label)}
        {told?.marks.wanting === 0 && ` ${words.fromLine(told.marks.all, label)}`}
      </p>
      {told !== null && fill_s !== null && fill_s !== usual.soak_s && (
        <>
          <Scribed
            wide
            chosen={into.soak_s === fill_s}
            label={words.time(fill_s)}
            sub={words.from(told.marks.all, label)}
            onTake={() => p.onSoak(fill_s)}
          />
          <Scribed
            wide
            chosen={into.soak_s === usual.soak_s}
            label={words.time(usual.soak_s)}
            sub={words.habit[usual.by]}
            onTake={() => p.onSoak(usual.soak_s)}
          />
        </>
      )}
      {into.run === null && <ForeseenPlan {...p} told={told} />}
      {told !== null && (
        <Scribed wide label={words.why} onTake={() => go("evidence", "soak", told.subject)} />
      )}
    </section>
  );
}

/** Ready, best and too soft, in minutes, and what speaks for it. */
export function said(told: Told, water: Water, label: string | null): string {
  const { foreseen: found, marks } = told;
  return [
    ...(marks.wanting > 0 ? [words.first_guess(marks.all, label)] : []),
    ...(told.isTriedEarly ? [words.after(found.lower_s, found.upper_s)] : [words.afterAtMost(found.upper_s)]),
    words.bestAfter(found.best_s),
    ...(found.too_soft_lower_s !== null && found.too_soft_upper_s !== null
      ? [words.softAfter(found.too_soft_lower_s, found.too_soft_upper_s)]
      : []),
    ...(told.here === 0 ? [words.elsewhere(water)] : []),
    ...(marks.wanting > 0 ? [words.more_marks(marks.wanting)] : []),
  ].join(" ");
}
