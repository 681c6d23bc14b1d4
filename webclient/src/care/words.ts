/** The words about care. Figures come in ready to read. */
import { day, few, list, number, pieceCount, plural, sentence } from "../language/format";
import type { CareTask, CareWhat, Tool } from "./model";
import type { Due } from "./rules";

export const what_words: Readonly<Record<CareWhat, string>> = {
  oil: "oil",
  clean: "clean",
  look: "look at the edge",
  change: "change the blade",
  grind: "grind",
  other: "something else",
};
export const tool_words: Readonly<Record<Tool, string>> = {
  gouger: "gouger",
  shaper: "shaper",
  knife: "knife",
  reamer: "reamer",
  mandrel: "mandrel",
  other: "another tool",
};

const NAMES: Readonly<Record<CareWhat, string>> = {
  oil: "Oil the pivot",
  clean: "Clean the arm",
  look: "Look at the edge",
  change: "Change the blade",
  grind: "Grind",
  other: "Care",
};
const OF_TOOL: Readonly<Record<CareWhat, string>> = {
  oil: "Oil the",
  clean: "Clean the",
  look: "Look at the",
  change: "Change the blade of the",
  grind: "Grind the",
  other: "Care for the",
};

const sessions = (n: number): string =>
  plural(n, { one: `${number(n)} session`, other: `${number(n)} sessions` });
const days = (n: number): string => plural(n, { one: `${number(n)} day`, other: `${number(n)} days` });

/** What a task is called: the maker's own words, else what and whereon. */
export function taskName(task: Pick<CareTask, "what" | "words" | "tool">, machine: string | null): string {
  if (task.words) return machine === null ? task.words : `${task.words}, ${machine}`;
  if (task.tool !== null) return `${OF_TOOL[task.what]} ${tool_words[task.tool]}`;
  return machine === null ? NAMES[task.what] : `${NAMES[task.what]}, ${machine}`;
}

/** "every 60 pieces, 2 sessions or 14 days" */
export function everyWords(task: Pick<CareTask, "every_pieces" | "every_sessions" | "every_days">): string {
  const parts = [
    task.every_pieces === null ? "" : pieceCount(task.every_pieces),
    task.every_sessions === null ? "" : sessions(task.every_sessions),
    task.every_days === null ? "" : days(task.every_days),
  ].filter((part) => part !== "");
  return parts.length === 0
    ? no_measure
    : every(parts.length === 1 ? (parts[0] ?? "") : `${parts.slice(0, -1).join(", ")} ${or} ${parts.at(-1)}`);
}

/** How far off: "now: 65 of 60 pieces", "Mon 7 Dec, or in 90 pieces". */
export function dueWords(due: Due, today: string): string {
  if (due.is_due) {
    if (due.by === "pieces" && due.pieces)
      return due_count(of(number(due.pieces.done), pieceCount(due.pieces.every)));
    if (due.by === "sessions" && due.sessions)
      return due_count(of(number(due.sessions.done), sessions(due.sessions.every)));
    return due.due_day === null || due.due_day >= today ? due_today : due_since(day(due.due_day));
  }
  if (due.put_off_until !== null && due.roughly_day === due.put_off_until)
    return put_off_to(day(due.put_off_until));
  if (due.moved && due.roughly_day !== null) return day(due.roughly_day);
  const when = due.due_day === null ? [] : [day(due.due_day)];
  if (due.pieces) when.push(in_pieces(pieceCount(Math.max(0, due.pieces.left))));
  if (due.sessions) when.push(in_pieces(sessions(Math.max(0, due.sessions.left))));
  return when.length === 0 ? no_measure : when.join(`, ${or} `);
}

export const room = "Care";
export const no_measure = "whenever you like";
export const every = (what: string): string => `every ${what}`;
export const or = "or";
export const of = (done: string, every: string): string => `${done} of ${every}`;
export const due_today = "due today";
export const due_count = (count: string): string => `now: ${count}`;
export const due_since = (on: string): string => `since ${on}`;
export const put_off_to = (on: string): string => `put off to ${on}`;
export const in_pieces = (n: string): string => `in ${n}`;
// the first line
export const box_full = (n: number): string => `${sentence(few(n))} are blunt: send the box.`;
export const saved = (amount: string): string => `${amount} less than one by one`;
export const is_due = (name: string): string => `${name}: due.`;
export const edge_due = (blade: string, cut: string): string =>
  `Blade ${blade} has cut ${cut}: look for a bow.`;
export const edge_due_sub = "worn most where it meets the crown; light shows in the middle";
export const nothing_due = "Nothing is due.";
export const next_due = (name: string, when: string): string => `Next: ${name}, ${when}`;
export const no_tasks = "Nothing is written down yet.";
export const no_tasks_sub = "Oil, cleaning, a look at the knife: each due by pieces, sessions or days.";
export const box_label = "used, to be boxed and shut";
export const box_sub = "pieces each cut on this edge";
export const box_missing = (n: number, of: number): string =>
  `${few(n)} more ${n === 1 ? "makes" : "make"} a box of ${few(of)}`;
export const labels = (labels: readonly string[]): string => list(labels);
export const stays = (n: number): string => `${few(n)} ${n === 1 ? "stays" : "stay"}`;
export const planned = (n: string): string => `${n} planned`;
export const also = "Also due";
export const tasks = "All care";
export const history = "What was done";
export const none_done = "Not done yet.";
export const done = "done";
export const put_off = (until: string): string => `put off to ${until}`;
// one task
export const done_now = "Done";
export const done_sub = "counts from now";
export const send_box = "Send the box";
export const look_edge = "Look at the edge";
export const new_task = "New care";
export const new_task_sub = "for a machine or a tool";
export const put_off_ask = "Put it off";
export const day_1 = "a day";
export const day_7 = "a week";
export const day_14 = "two weeks";
export const change_it = "Change how often";
export const remove = "No longer wanted";
export const back = "Back to care";
export const take_back = "It was not done";
// new task
export const what = "What is to be done?";
export const for_what = "For what?";
export const own_words = "In your words, if you like";
export const by_pieces = "every so many pieces";
export const by_sessions = "every so many sessions";
export const by_days = "every so many days";
export const none = "0: not by this";
export const keep = "Keep it";
export const keep_sub = "it counts from now";
export const presets = "Usual ones";
export const presets_sub = "one tap; figures can be changed";
export const own = "Another one";
// a caution
export const damp_order = "Dry everything.";
export const damp_text =
  "Standing water and damp cane grow mould. Cane dust: work wet, a mask for dry sanding.";
