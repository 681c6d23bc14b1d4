/** The words of a locked phone's bell and of its check. */
import { clockTime, day, sentence } from "../language/format";
import type { Also, Locked } from "./track_rules";

const when_locked: Readonly<Record<Locked, (day: string) => string>> = {
  silent: () => "silent",
  touch_first: () => "touch the screen once",
  interrupted: () => "silent, the bell was interrupted",
  not_tried: () => "the bell plays",
  rings: (day) => `rings, as on ${day}`,
  failed: (day) => `the bell plays, but was not heard on ${day}`,
};
export const screen_and_locked = (on: string, locked: Locked, tried: string | null) =>
  `${sentence(on)}. Locked: ${when_locked[locked](tried === null ? "" : day(tried))}${tried === null ? "; this phone has not been tried" : ""}.`;
const also_calls: Readonly<Record<Also, string>> = {
  bench: "the bench rings too",
  push: "with internet a message comes too",
};
export const also = (all: readonly Also[], quiet: { from: string | null; until: string | null }) => {
  const hours = quiet.from && quiet.until ? `, not from ${quiet.from} to ${quiet.until}` : "";
  return `${sentence(all.map((one) => also_calls[one]).join("; "))}${hours}.`;
};
export const ring_locked = "Ring when locked";
export const ring_locked_costs =
  "Other music stops; music, a call or pulled headphones stop the bell. It is as loud as music is set.";
export const interrupted_at = (at: string) => `The bell was interrupted at ${clockTime(at)}.`;
export const ask_calendar = "Ask the calendar too";
export const ask_calendar_sub = "it cannot be corrected from here later";
export const calendar_asked = (at: string) => `The calendar was asked at ${clockTime(at)}.`;
export const track_title = (name: string, at: number) => `Soak, ${name}, ends ${clockTime(at)}`;
export const check = "Phone check";
export const check_sub = "what rings on this phone";
export const check_ask = "Lock it for six minutes: did it ring?";
export const check_start = "Start, then lock";
export const check_start_sub = "no music meanwhile";
export const check_until = (at: number) => `Lock it now. It rings at ${clockTime(at)}.`;
export const check_seen = "The screen was on when it rang: start again and leave it locked.";
export const it_rang = "It rang";
export const it_did_not = "It did not";
export const screen_on = "screen on";
export const locked = "locked, six minutes";
export const bench = "bench computer";
export const by_push = "message by push";
export const no_bell = "has no bell";
export const result = (test: { rang: boolean; at: string } | null) =>
  test === null ? "not tried" : `${test.rang ? "rang" : "silent"}, ${day(test.at)}`;
export const came = (test: { rang: boolean; at: string } | null) =>
  test === null ? "not tried" : `${test.rang ? "came" : "did not come"}, ${day(test.at)}`;
export const ring_once = "Ring once now";
