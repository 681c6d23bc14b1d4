/** The words about soaking. Figures come in ready to read. */
import { clockTime, minutes, number, plural, wait } from "../language/format";
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
const SMALL = [
  "no",
  "one",
  "two",
  "three",
  "four",
  "five",
  "six",
  "seven",
  "eight",
  "nine",
  "ten",
  "eleven",
  "twelve",
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
  return SMALL[pieces] ?? number(pieces);
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

export const words = {
  room: "Soak",
  into: "Into the water",
  in: "In the water",
  nothing_in: "nothing in the water",
  first_title: "Cane in? Start the clock.",
  first_ask: "How do you soak? Makers differ.",
  first_head: "Easelside",
  first_sub: "nothing to set up first",
  first_later: "Machine, blade, lot and number of pieces are asked when they matter; each can wait.",
  start_clock: "Start the clock",
  habit: "how do you soak?",
  warm: "warm",
  cold: "cold",
  overnight: "overnight",
  warm_sub: "half an hour, 35 to 40 °C",
  cold_sub: "some hours",
  room_sub: "some hours",
  overnight_sub: "out next morning",
  water_ready: (water: Water, at: number) => `${water}: ready at ${clockTime(at)}`,
  as_last_time: "as last time",
  staggered: (pieces: number) => `${number(pieces)}, staggered`,
  stagger_line: (each: number, every_min: number) =>
    `as last time: ${number(each)} now, then ${number(each)} every ${minutes(every_min)}`,
  from_to: (from: number, to: number) => `${clockTime(from)} to ${clockTime(to)}`,
  of_lot: (pieces: number | null, lot: string | null) =>
    `${pieces === null ? "Cane" : number(pieces)}${lot === null ? (pieces === null ? "" : plural(pieces, { one: " piece", other: " pieces" })) : ` of lot ${lot}`}`,
  other_number: "another number",
  pieces: "pieces",
  of_what: (lot: string | null) => (lot === null ? "pieces" : `of lot ${lot}`),
  which_lot: "Lot",
  no_lot: "no lot yet",
  batch: "Batch",
  no_batch: "no batch yet",
  lot: (label: string) => `lot ${label}`,
  what_for: "What for?",
  water: "Water",
  water_c: "water, °C",
  time_in_water: "time in water",
  minutes_unit: "min",
  fresh: "fresh",
  fresh_said: "fresh water in a washed jar",
  more: "Batch, purpose, time",
  practice: "by practice",
  your_habit: "your habit",
  your_mark: "your mark",
  by: { habit: "your habit", practice: "by practice" } as const,
  stands: (soak_s: number, by: string) => `${wait(soak_s / 60)}, ${by}`,
  keep_as_habit: (soak_s: number, water: Water) => `Always ${wait(soak_s / 60)} when ${water}`,
  hot_order: "Under 60 °C.",
  hot_text: "Hotter water scalds hands and spoils cane.",
  keep_water: "Keep it under 60 °C, fresh every time, the bowl lower than phone and charger.",
  mould_order: "Dry everything afterwards.",
  mould_text: "Standing water and damp cane grow mould, which can make lungs ill.",
  put_in: (pieces: number | null, of: number | null) =>
    pieces === null
      ? "Put it in"
      : of !== null && of > pieces
        ? `Put in ${number(pieces)} of ${number(of)}`
        : `Put in ${said(pieces)}`,
  ready_at: (at: number) => `ready at ${clockTime(at)}`,
  ready_sub: (at: number, rings: string) => `ready ${clockTime(at)}, ${rings}`,
  ready: "ready",
  named_ready: (name: string) => `${name}: ready`,
  named_over: (name: string) => `${name}: past your mark`,
  named_wait: (name: string, min: number) => `${name}: ${wait(min)}`,
  are_ready_in: (name: string) => `${name} ready in`,
  done_ago: (min: number) => (min < 1 ? "done now" : `done ${wait(min)} ago`),
  in_at: (jar: string, at: number) => `jar ${jar}, in at ${clockTime(at)}`,
  time_and_ready: (soak_s: number, by: string) => `${wait(soak_s / 60)}, ${by}`,
  next_go_in: (pieces: number, at: number) => `The next ${said(pieces)} go in at ${clockTime(at)}.`,
  next_due: (pieces: number) => `The next ${said(pieces)} are due in the water.`,
  due_at: (at: number) => `due at ${clockTime(at)}`,
  end_row: "No more of this row",
  end_row_sub: "the others stay dry",
  next_name: (pieces: number | null) => `The next ${said(pieces)}`,
  no_soft_mark: (lot: string | null) =>
    `Too soft: no mark of yours${lot === null ? "" : ` in lot ${lot}`} yet.`,
  soft_mark: (min: number, lot: string | null) =>
    `Too soft: your mark${lot === null ? "" : ` in lot ${lot}`} at ${wait(min)}.`,
  hard_mark: (min: number, lot: string | null) =>
    `Still hard: your mark${lot === null ? "" : ` in lot ${lot}`} at ${wait(min)}.`,
  too_soft_mark: "too soft, your mark",
  over_line: (min: number) => `Past your own mark, too soft at ${wait(min)}: look at it now.`,
  how_cut: (at: number) => `out at ${clockTime(at)}. How did they cut?`,
  how_cut_legend: "How did they cut?",
  mark_later: "The mark can wait.",
  take_out: (pieces: number | null) => (pieces === null ? "Take it out" : `Take out ${said(pieces)}`),
  jar_free: (name: string, jar: string) => `${lower(name)}, jar ${jar} is free then`,
  set_up: "Set up",
  first_ready: (name: string, at: number) => `${lower(name)} ready at ${clockTime(at)}`,
  put_more_in: "Put more in",
  take_back: "Take back",
  took_back: (what: string) => `Take back: ${what}`,
  open_what: "put right, add, dry",
  open: (name: string) => `${name}: put right, add, dry`,
  now: (at: number) => `now, ${clockTime(at)}`,
  zero_min: "0 min",
  drying: (since: number, min: number) => `drying in air since ${clockTime(since)}, ${wait(min)}`,
  dry_back: "Dry back in air",
  dry_back_sub: "waterlogged cane cuts again after a while",
  dry_enough: "Dry enough",
  add: "Add pieces to this jar",
  add_now: (pieces: number) => `Add ${number(pieces)} now`,
  add_sub: "their own time begins now",
  put_right: "When did it go in?",
  put_right_ask: (at: number) => `Put in at ${clockTime(at)}?`,
  minutes_ago: "minutes ago",
  hours_ago: "hours ago",
  put_right_take: (at: number) => `It went in at ${clockTime(at)}`,
  planned: "planned time in water",
  note: "Note",
  keep_note: "Keep the note",
  never_in: "It never went in",
  never_in_sub: "this soak is taken out of the records",
  never_in_take: "Take this soak away",
  look_now: "Look at it now.",
  in_water: "in water",
  in_at_clock: (at: number) => `In at ${clockTime(at)}`,
  by_old_clock: "as it was written: the clock is right now",
  by_new_clock: "by the clock as it now goes",
  yes_right: (at: string) => `Yes, ${at}`,
  no_put_right: "No, put it right",
  ask_start: "Is the start right?",
  back: "Back to the jars",
  clock_jumped: (ahead: boolean, min: number) =>
    `This phone's clock went ${ahead ? "ahead" : "back"} by ${wait(min)}.`,
  clock_jumped_sub: "Is the start still right?",
  clock_off: (ahead: boolean, min: number) =>
    `This phone's clock is ${wait(min)} ${ahead ? "ahead" : "behind"}. The times here go by the workshop's.`,
  jar: (jar: string) => `jar ${jar}`,
  wet_by_practice:
    "How dark a strip is drawn is its share of the planned time, by practice. It measures nothing.",
  drawing_jar: (pieces: number | null, jar: string) =>
    `jar ${jar} with ${pieces === null ? "cane" : `${number(pieces)} pieces`}`,
} as const;

/** What stands in Take back, and in its history. */
export const did_words = {
  put_in: "put in",
  out: "taken out",
  mark: "the mark",
  dry: "drying back",
  dry_enough: "dry enough",
  add: "pieces added",
  put_right: "start put right",
  row: "the row ended",
  planned: "planned time",
  note: "note",
  never: "never went in",
  habit: "habit",
} as const;
