/** How long should this cane stay in this water, and how are so many pieces staggered? Fills the time in; habit stays at hand. */
import { useLayoutEffect, useRef } from "preact/hooks";
import { num } from "../logbook/read";
import { slip } from "../logbook/slips";
import { logbook } from "../logbook/state";
import { go } from "../route";
import { Scribed } from "../workshop";
import { foreseen } from "../workshop/foreseen_slot";
import * as did_words from "./did_words";
import { every_s, type Pace, plan } from "./foreseen_stagger_rules";
import { type Told, toldOf, windowOf } from "./foreseen_told_rules";
import * as words from "./foreseen_words";
import type { Soak, SoakHabit, Water } from "./model";
import { type PutIn, planned } from "./rules";
import { startSoak } from "./state";

/** Where nobody measured it; common practice, no source. */
export const ROOM_C = 20;

export function toldFor(lot: string | null, water: Water, poured_c: number): Told | null {
  const gouge = num(logbook.row("lot", lot ?? ""), "gouge_mm");
  const own = lot === null ? undefined : slip("soak", lot);
  return toldOf([own, slip("soak", "all")], water, poured_c, ROOM_C, gouge);
}

/** A habit as near as this to the best time stays: the red thread is tied as wide. */
const AS_GOOD_S = 180;

/** The pace at the bench, as bench_day joins it; null: too few pieces were fully counted. */
export function paceFor(lot: string | null, batch: string | null): Pace | null {
  return (foreseen.value?.told["pace"]?.({ lot, batch }) as Pace | null | undefined) ?? null;
}

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
      <Row {...p} told={told} />
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
    ...(told.isTriedEarly ? [words.after(found.lower_s, found.upper_s)] : [words.afterAtMost(found.upper_s)]),
    words.bestAfter(found.best_s),
    ...(found.too_soft_lower_s !== null && found.too_soft_upper_s !== null
      ? [words.softAfter(found.too_soft_lower_s, found.too_soft_upper_s)]
      : []),
    ...(told.here === 0 ? [words.elsewhere(water)] : []),
    ...(marks.wanting > 0 ? [words.few_marks(marks.all, label, marks.wanting)] : []),
  ].join(" ");
}

/** So many pieces at the bench's pace: in which groups, how often; or what would make it possible. */
function Row(p: PutInFacts & { told: Told | null }) {
  const { into, told } = p;
  const pieces = into.of_pieces ?? into.pieces ?? 0;
  const pace = paceFor(into.lot, into.batch);
  if (pace === null || pieces < 2) return null;
  const jars = jarsOf(p.soaks);
  const wish = { ...windowOf(told, into.soak_s), pieces, pace, jars, out_together: true };
  const each = into.of_pieces === null ? null : into.pieces;
  const asMeant = plan({ ...wish, each: each ?? pieces });
  const { groups, changes } = asMeant.groups.length > 0 ? asMeant : plan({ ...wish, each: null });
  const first = groups[0];
  const every = every_s(groups);
  const reasons = asMeant.groups.length > 0 ? [] : asMeant.changes;
  return (
    <>
      {asMeant.groups.length === 0 && (
        <p>
          {words.cannot(pace.quick_s, pace.slow_s, each ?? pieces)}{" "}
          {words.would(reasons.length > 0 ? reasons : changes)}
        </p>
      )}
      {first && every === null && asMeant.groups.length > 0 && (
        <p>{words.together(pace.quick_s, pace.slow_s, pieces)}</p>
      )}
      {first && every !== null && (
        <>
          <p>
            {words.row(
              pace.quick_s,
              pace.slow_s,
              first.pieces,
              every,
              Math.max(...groups.map((group) => group.jar)),
            )}
          </p>
          {(first.pieces !== into.pieces || Math.abs(every - (into.every_s ?? 0)) > 60) && (
            <Scribed
              wide
              label={words.row_take(first.pieces, every)}
              sub={words.row_sub(first.pieces, pieces)}
              onTake={() => {
                const whole_s = Math.max(60, Math.round(every / 60) * 60);
                const set = { ...into, pieces: first.pieces, of_pieces: pieces, every_s: whole_s };
                startSoak(did_words.put_in, set, p.fresh);
                go("soak");
              }}
            />
          )}
        </>
      )}
    </>
  );
}

/** The jars there are: as many as were ever numbered, two at least. */
export function jarsOf(soaks: readonly Soak[]): number {
  return Math.min(12, Math.max(2, ...soaks.map((soak) => Number(soak.jar)).filter(Number.isInteger)));
}
