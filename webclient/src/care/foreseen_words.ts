/** What a person reads of the day on which care is due. */
import { day } from "../language/format";
import type { Outlook } from "./foreseen_rules";

export const on = (at: string): string => `due on ${day(at)}`;
export const about = (middle: string, lower: string, upper: string): string =>
  `about ${day(middle)} (${day(lower)} to ${day(upper)}, 9 times in 10)`;
export const due = (when: string): string => `due ${when}`;
export const by_day = (at: string): string => `by ${day(at)}`;
export const perhaps = (from: string): string => `perhaps from ${day(from)}`;
export const by: Readonly<Record<Outlook["by"], string>> = {
  pieces: "by the pieces that you cut",
  sessions: "by sessions",
  days: "by the calendar",
};
export const roughly = (at: string): string => `roughly ${day(at)}, as you work now`;
export const why = "Why then?";
export const title = (name: string): string => `${name}: when it is due`;
export const pace_pieces = (n: string, days: string): string =>
  `${n} pieces a day, from the last ${days} days at the bench`;
export const pace_sessions = (n: string, days: string): string =>
  `${n} sessions a day, from the last ${days} days`;
export const only_calendar = "the calendar alone";
export const left_pieces = (n: string): string => `In ${n} pieces more it is due.`;
export const left_sessions = (n: string): string => `In ${n} sessions more it is due.`;
export const left_day = (at: string): string => `By the calendar it is due on ${day(at)}.`;
export const chart = "how likely it is due by each day, of a hundred";
export const x = "day";
export const y = "times in 100 due by then";
export const columns = { chance: "times in 100 due by", day: "day" };
export const how = [
  "Pieces, sessions and days count since it was last done; whichever comes first makes it due.",
  "How fast you work is taken from the last four weeks, or from twelve where the eight before went no differently. Work comes by the batch, so it is counted by the batch: few batches say little of the pace, and the range is wide.",
  "The rate is a gamma distribution, the wait at a rate another one: together the range says where the day lies 9 times in 10.",
];
export const moved = {
  before: "a quiet day before the next batch",
  after: "the first quiet day after a batch",
};
export const change = {
  before: (at: string): string => `Change it on ${day(at)}, ${moved.before}.`,
  after: (at: string): string =>
    `No quiet day is left before the next batch: change it on ${day(at)}, or move the batch.`,
};
