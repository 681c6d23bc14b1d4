/** How does each soak stand right now? What a jar's row, Today and the bell all say of it. Pure: `now` comes in. */
import type { Soak, SoakHabit, Water } from "./model";
import {
  inWater_s,
  isInWater,
  type Marks,
  marksOf,
  planned,
  putInAt,
  readyAt,
  type SoakState,
  stateOf,
  takenOutAt,
  wetShare,
} from "./rules";
import * as words from "./words";
import { named, said } from "./words";

export interface Standing {
  soak: Soak;
  state: SoakState;
  /** "Second six", "6 of lot D", "The cane"; "Second six, lot D" where another lot is in the water too */
  name: string;
  /** the same within a sentence: "the second six of lot D" */
  within: string;
  lot: string | null;
  put_in: number;
  ready: number;
  out: number | null;
  /** whole minutes until it is ready, rounded up; 0 once it is */
  wait_min: number;
  /** whole minutes since it was ready */
  ago_min: number;
  /** whole minutes in water */
  in_min: number;
  /** share of the planned time, 0 to 1 */
  wet: number;
  marks: Marks;
  /** "your mark", "your habit", "by practice" */
  by: string;
  /** where the red thread is tied, minutes; null: this maker has no mark */
  thread_min: number | null;
  /** minutes along the lath */
  lath_min: number;
}

/** `lot`: the label of the soak's lot. */
export function standingOf(
  soak: Soak,
  soaks: readonly Soak[],
  now: number,
  habit: SoakHabit,
  lot: string | null,
): Standing {
  const marks = marksOf(soaks, soak);
  const put_in = putInAt(soak) ?? now;
  const ready = readyAt(soak) ?? now;
  const place = placeInRow(soak, soaks);
  const state = stateOf(soak, now, marks);
  const isMixed = soaks.some((other) => isInWater(other) && other.lot !== soak.lot);
  const thread_s = state === "over" ? marks.too_soft_s : (marks.good_s ?? marks.too_soft_s);
  return {
    soak,
    state,
    name:
      place === null && lot !== null
        ? words.of_lot(soak.pieces, lot)
        : named(place, soak.pieces) + words.of_a_lot(isMixed ? lot : null),
    within: within(place, soak.pieces, lot),
    lot,
    put_in,
    ready,
    out: takenOutAt(soak),
    wait_min: Math.min(Math.ceil(soak.soak_s / 60), Math.max(0, Math.ceil((ready - now) / 60_000))),
    ago_min: Math.max(0, Math.floor((now - ready) / 60_000)),
    in_min: Math.round(inWater_s(soak, now) / 60),
    wet: wetShare(soak, now),
    marks,
    by: whose(soak.soak_s, soak.water, habit, marks),
    thread_min: thread_s === null ? null : Math.round(thread_s / 60),
    lath_min: (Math.max(soak.soak_s, thread_s ?? 0) / 60) * (4 / 3),
  };
}

/** Whose figure is this planned time: a good mark within three minutes of it, the habit said, practice, or none of these. */
export function whose(soak_s: number, water: Water, habit: SoakHabit, marks: Marks): string {
  if (marks.good_s !== null && Math.abs(marks.good_s - soak_s) <= 180) return words.your_mark;
  const usual = planned(water, habit);
  return usual.soak_s === soak_s ? words.by[usual.by] : words.your_choice;
}

/** First, second, third of a staggered row; null: it went in by itself. */
function placeInRow(soak: Soak, soaks: readonly Soak[]): number | null {
  const first = soak.run ?? soak.id;
  const row = soaks
    .filter((each) => (each.run ?? each.id) === first)
    .sort((a, b) => (putInAt(a) ?? 0) - (putInAt(b) ?? 0) || (a.id < b.id ? -1 : 1));
  const more = soak.of_pieces !== null && soak.pieces !== null && soak.of_pieces > soak.pieces;
  return row.length > 1 || more ? row.findIndex((each) => each.id === soak.id) + 1 : null;
}

function within(place: number | null, pieces: number | null, lot: string | null): string {
  const of = lot === null ? "" : ` of lot ${lot}`;
  if (place !== null) return `the ${named(place, pieces).toLowerCase()}${of} are`;
  if (pieces === null) return `${said(null)}${of} is`;
  return `the ${said(pieces)}${of} ${pieces === 1 ? "is" : "are"}`;
}
