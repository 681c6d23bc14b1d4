/** What a person reads of the day on which care is due. */
import { day } from "../language/format";
import type { Outlook } from "./foreseen_rules";

export const on = (at: string): string => `due on ${day(at)}`;
export const about = (middle: string, lower: string, upper: string): string =>
  `due about ${day(middle)} (${day(lower)} to ${day(upper)}, 9 times in 10)`;
export const put_off = (at: string): string => `not before ${day(at)}`;
export const by: Readonly<Record<Outlook["by"], string>> = {
  pieces: "by the pieces that you cut",
  sessions: "by sessions",
  days: "by the calendar",
};
export const roughly = (at: string): string => `roughly ${day(at)}, as you work now`;
export const change_before = (at: string): string =>
  `Change it on ${day(at)}, a quiet day before the next batch.`;
export const change_after = (at: string): string =>
  `No quiet day is left before the next batch: change it on ${day(at)}, or move the batch.`;
