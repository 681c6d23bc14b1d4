/** The words about soaking. Figures come in ready to read. */
import { clockTime, few, minutes, near, number, plural, wait } from "../language/format";
import type { Mark, Purpose, Water } from "./model";

const ORDINALS = [
  "",
  "First",
  "Second",
  "Third",
  "Fourth",
  "Fifth",
  "Sixth",
  "Seventh",
  "Eighth",
  "Ninth",
  "Tenth",
];
export const water_words: Readonly<Record<Water, string>> = {
  warm: "warm",
  room: "room",
  cold: "cold",
  overnight: "overnight",
};
export const purpose_words: Readonly<Record<Purpose, string>> = {
  profile: "to profile",
  shape: "to shape",
  form: "to form",
  ream: "to ream",
  scrape: "to scrape",
  other: "for something else",
};
export const mark_words: Readonly<Record<Mark, string>> = {
  still_hard: "still hard",
  good: "good",
  too_soft: "too soft",
};

/** "six", "24", "cane": a group as it is spoken of. */
export function said(pieces: number | null): string {
  if (pieces === null) return "the cane";
  return few(pieces);
}

/** Where it stands in its row: "Second six", "Jar 2: 8 pieces", "The cane". */
export function named(place: number | null, pieces: number | null): string {
  if (place !== null && ORDINALS[place] !== undefined && place > 0)
    return `${ORDINALS[place]} ${said(pieces)}`;
  return pieces === null
    ? "The cane"
    : `${number(pieces)} ${plural(pieces, { one: "piece", other: "pieces" })}`;
}

const lower = (name: string): string => name.charAt(0).toLowerCase() + name.slice(1);

export const room = "Soak";
export const into = "Into the water";
export const in_the_water = "In the water";
export const nothing_in = "nothing in the water";
export const first_title = "Cane in? Start the clock.";
export const first_ask = "How do you soak? Makers differ; a touch starts it.";
export const first_head = "Easelside";
export const first_sub = "nothing to set up first";
export const first_later =
  "Machine, blade, lot and number of pieces are asked when they matter; each can wait.";
export const start_clock = "Start the clock";
export const first_subs = {
  warm: "half an hour, 35 to 40 °C",
  cold: "some hours",
  overnight: "out next morning",
} as const;
export const water_ready = (water: Water, at: number) => `${water}: ready at ${clockTime(at)}`;
export const as_last_time = "as last time";
export const your_choice = "your choice";
export const staggered = (pieces: number) => `${number(pieces)}, staggered`;
export const stagger_line = (each: number, every_min: number) =>
  `as last time: ${number(each)} now, then ${number(each)} every ${minutes(every_min)}`;
export const from_to = (from: number, to: number) => `${clockTime(from)} to ${clockTime(to)}`;
export const of_lot = (pieces: number | null, lot: string | null) =>
  `${pieces === null ? "Cane" : number(pieces)}${lot === null ? (pieces === null ? "" : plural(pieces, { one: " piece", other: " pieces" })) : ` of lot ${lot}`}`;
/** A label without a space may break here and there. */
export const breakable = (label: string) => label.replace(/\S{8}/g, "$&\u200b");
export const other_number = "another number";
export const pieces = "pieces";
export const of_what = (lot: string | null) => (lot === null ? "pieces" : `of lot ${lot}`);
export const which_lot = "Lot";
export const no_lot = "no lot yet";
export const batch = "Batch";
export const no_batch = "no batch yet";
export const lot = (label: string) => `lot ${label}`;
export const what_for = "What for?";
export const water = "Water";
export const water_c = "water, °C";
export const time_in_water = "time in water";
export const minutes_unit = "min";
export const fresh = "fresh";
export const more = "Batch, purpose, time";
export const practice = "by practice";
export const your_mark = "your mark";
export const by = { habit: "your habit", practice: "by practice" } as const;
export const stands = (soak_s: number, by: string) => `${wait(soak_s / 60)}, ${by}`;
export const keep_as_habit = (soak_s: number, water: Water) => `Always ${wait(soak_s / 60)} when ${water}`;
export const hot_order = "Under 60 °C.";
export const hot_text = "Hotter water scalds hands and spoils cane.";
export const keep_water = "Keep it under 60 °C, fresh every time, the bowl lower than phone and charger.";
export const mould_order = "Dry everything afterwards.";
export const mould_text = "Standing water and damp cane grow mould, which can cause lung disease.";
export const put_in = (pieces: number | null, of: number | null) =>
  pieces === null
    ? "Put it in"
    : of !== null && of > pieces
      ? `Put in ${number(pieces)} of ${number(of)}`
      : `Put in ${said(pieces)}`;
export const ready_at = (at: number) => `ready at ${near(at)}`;
export const ready_sub = (at: number, rings: string) => `ready ${near(at)}, ${rings}`;
export const ready = "ready";
export const named_ready = (name: string) => `${name}: ready`;
export const named_over = (name: string) => `${name}: past your mark`;
export const named_wait = (name: string, min: number) => `${name}: ${wait(min)}`;
export const done_ago = (min: number) => (min < 1 ? "done now" : `done ${wait(min)} ago`);
export const in_at = (jar: string, at: number) => `jar ${jar}, in at ${near(at)}`;
export const next_go_in = (pieces: number, at: number) =>
  `The next ${said(pieces)} go in at ${clockTime(at)}.`;
export const next_due = (pieces: number) => `The next ${said(pieces)} are due in the water.`;
export const of_a_lot = (lot: string | null) => (lot === null ? "" : `, lot ${lot}`);
export const due_at = (at: number, lot: string | null) => `due at ${clockTime(at)}${of_a_lot(lot)}`;
export const end_row = (of: number) => `No more of these ${number(of)}`;
export const end_row_sub = "the others stay dry";
export const next_name = (pieces: number | null) => `The next ${said(pieces)}`;
export const no_soft_mark = (lot: string | null) =>
  `Too soft: no mark of yours${lot === null ? "" : ` in lot ${lot}`} yet.`;
export const soft_mark = (min: number, lot: string | null) =>
  `Too soft: your mark${lot === null ? "" : ` in lot ${lot}`} at ${wait(min)}.`;
export const hard_mark = (min: number, lot: string | null) =>
  `Still hard: your mark${lot === null ? "" : ` in lot ${lot}`} at ${wait(min)}.`;
export const too_soft_mark = "too soft, your mark";
export const over_line = (min: number) => `Past your own mark, too soft at ${wait(min)}: look at it now.`;
export const how_cut = (at: number) => `out at ${clockTime(at)}. How did they cut?`;
export const how_cut_legend = "How did they cut?";
export const take_out = (pieces: number | null) =>
  pieces === null ? "Take it out" : `Take out ${said(pieces)}`;
export const jar_free = (name: string, jar: string | null) =>
  lower(name) + (jar === null ? "" : `, jar ${jar} is free then`);
export const set_up = "Set up";
export const first_ready = (name: string, at: number) => `${lower(name)} ready at ${clockTime(at)}`;
export const put_more_in = "Put more in";
export const take_back = "Take back";
export const took_back = (what: string) => `Take back: ${what}`;
export const open_what = "put right, add, dry";
export const open = (name: string) => `${name}: put right, add, dry`;
export const now = (at: number) => `now, ${clockTime(at)}`;
export const zero_min = "0 min";
export function drying(since: string | null, now: number): string {
  const at = Date.parse(since ?? "");
  return `drying in air since ${near(at)}, ${wait(Math.max(0, now - at) / 60_000)}`;
}
export const dry_back = "Dry back in air";
export const dry_back_sub = "waterlogged cane cuts again after a while";
export const dry_enough = "Dry enough";
export const add = "Add pieces to this jar";
export const add_now = (pieces: number) => `Add ${number(pieces)} now`;
export const add_sub = "their own time begins now";
export const put_right = "When did it go in?";
export const put_right_ask = (at: number) => `Put in at ${near(at)}?`;
export const minutes_ago = "minutes ago";
export const hours_ago = "hours ago";
export const put_right_take = (at: number) => `It went in at ${near(at)}`;
export const planned = "planned time in water";
export const note = "Note";
export const never_in = "It never went in";
export const never_in_sub = "this soak is taken out of the records";
export const never_in_take = "Take this soak away";
export const look_now = "Look at it now.";
export const in_water = "in water";
export const in_at_clock = (at: number) => `In at ${clockTime(at)}`;
export const by_old_clock = "as it was written: the clock is right now";
export const by_new_clock = "by the clock as it now goes";
export const yes_right = (at: string) => `Yes, ${at}`;
export const no_put_right = "No, put it right";
export const ask_start = "Is the start right?";
export const back = "Back to the jars";
export const clock_jumped = (ahead: boolean, min: number) =>
  `This phone's clock went ${ahead ? "ahead" : "back"} by ${wait(min)}.`;
export const clock_jumped_sub = "Is the start still right?";
export const clock_off = (ahead: boolean, min: number) =>
  `This phone's clock is ${wait(min)} ${ahead ? "ahead" : "behind"}. The times here go by the workshop's.`;
export const jar = (jar: string) => `jar ${jar}`;
export const wet_by_practice =
  "How dark a strip is drawn is its share of the planned time, by practice. It measures nothing.";
export const drawing_jar = (pieces: number | null, jar: string) =>
  `jar ${jar} with ${pieces === null ? "cane" : `${number(pieces)} pieces`}`;
