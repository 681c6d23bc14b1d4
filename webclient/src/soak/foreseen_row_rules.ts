// A staggered row is under way: at the pace that shows at the bench, when does its next group go in?

import { addDays, dayIn, instantIn } from "../language/rules";
import { nextGroupIn, type Pace } from "./foreseen_stagger_rules";

/** Less than this is no reason to move a group. */
const WORTH_MOVING_MS = 120_000;

export interface RowUnderWay {
  now: number;
  /** pieces of the row that went in, and how many of the batch were cut since */
  wet: number;
  cut: number;
  /** some of it came out already */
  isOut: boolean;
  /** the first group's planned end, ms; null: not known */
  ready: number | null;
  /** the last group's start, ms */
  last_in: number;
  /** the next group, as it was planned */
  group: { at: number; pieces: number };
}

export interface Replanned {
  at: number;
  /** far enough from what was planned to say so */
  isMoved: boolean;
  /** what `every_s` of the row has to be for that, whole minutes */
  every_s: number;
  /** none of it is too soft before it is wanted */
  kept: boolean;
}

/** Null: more was cut than went in, so the row says nothing of the work. */
export function replanned(
  row: RowUnderWay,
  pace: Pace,
  window: { ready_s: number; too_soft_s: number },
): Replanned | null {
  const ahead = row.wet - row.cut;
  if (ahead < 0) return null;
  const isGoingOn = row.cut > 0 || row.isOut;
  const starts_in_s = isGoingOn ? 0 : Math.max(0, ((row.ready ?? row.now) - row.now) / 1000);
  const { put_in_s, kept } = nextGroupIn(
    ahead,
    row.group.pieces,
    pace,
    window.ready_s,
    window.too_soft_s,
    true,
    starts_in_s,
  );
  const at = row.now + put_in_s * 1000;
  return {
    at,
    isMoved: Math.abs(at - Math.max(row.now, row.group.at)) >= WORTH_MOVING_MS,
    every_s: Math.max(60, Math.round((at - row.last_in) / 60_000) * 60),
    kept,
  };
}

/** So long ago a time of the day still means today: too soon, not tomorrow. */
const JUST_GONE_MS = 3_600_000;

/** When clocks in a zone show "14:00" next; null where no time is said. */
export function nextAt(clock: string, now: number, zone: string): number | null {
  if (!/^\d\d:\d\d/.test(clock)) return null;
  const on = (day: string): number => Date.parse(instantIn(zone, day, clock.slice(0, 5)));
  const today = dayIn(zone, now);
  return on(today) < now - JUST_GONE_MS ? on(addDays(today, 1)) : on(today);
}

/** The warmest water, whole °C, in which all takes so many times as long; null: none, or `best_s` cannot say. */
export function colder_c(
  best_s: (c: number) => number | null,
  usual_c: number,
  times: number,
): number | null {
  const wanted_s = (best_s(usual_c) ?? Number.NaN) * times;
  const isCold = (c: number): boolean => (best_s(c) ?? 0) >= wanted_s;
  let [cold, warm] = [1, Math.ceil(usual_c)];
  if (cold >= warm || !isCold(cold)) return null;
  while (warm - cold > 1) {
    const middle = Math.floor((cold + warm) / 2);
    if (isCold(middle)) cold = middle;
    else warm = middle;
  }
  return cold;
}
