/** The words about machines and set-up. Figures come in ready to read. */
import { number } from "../language/format";
import type { Answer, Does, Instrument, Sense, Stop, What } from "./model";
import { eighthsOf, type Why } from "./rules";

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

export const sentence = (text: string): string => text.charAt(0).toUpperCase() + text.slice(1);

/** A small count in words. */
export const few = (n: number): string => SMALL[n] ?? number(n);

const FRACTIONS = ["", "1/8", "1/4", "3/8", "1/2", "5/8", "3/4", "7/8"];

/** 2.375 as "2 3/8", -0.125 as "−1/8"; what is no eighth as a decimal. */
export function turns(value: number): string {
  const { whole, eighths } = eighthsOf(value);
  if (Math.abs(Math.abs(value) * 8 - (whole * 8 + eighths)) > 0.02) return number(value);
  const said = [whole > 0 || eighths === 0 ? number(whole) : "", FRACTIONS[eighths]]
    .filter(Boolean)
    .join(" ");
  return value < 0 ? `−${said}` : said;
}

export const mm = (value: number): string => `${number(value)} mm`;
const mm2 = (value: number): string => mm(Math.round(Math.abs(value) * 100) / 100);

/** A stop as the maker writes it. */
export function stopWords(stop: Stop | null): string {
  if (stop === null) return words.not_written;
  if (stop.way === "words") return stop.value;
  return stop.way === "turns" ? turns(stop.value) : mm(stop.value);
}

export const does_words: Readonly<Record<Does, string>> = {
  profile: "profiles",
  gouge: "gouges",
  shape: "shapes",
  tip: "cuts tips",
  other: "something else",
};
export const instrument_words: Readonly<Record<Instrument, string>> = {
  bassoon: "bassoon",
  contrabassoon: "contrabassoon",
  oboe: "oboe",
  cor_anglais: "cor anglais",
  other: "another instrument",
};
export const sense_words: Readonly<Record<Sense, string>> = {
  clockwise: "clockwise",
  anticlockwise: "anticlockwise",
};

interface RowWords {
  label: string;
  look: string;
  tolerance: string;
  /** The good answer, in the edge. */
  good: string;
  good_sub: string;
  /** In the sentence at the head of the slip. */
  short: string;
}

export const rows: Readonly<Record<What, RowWords>> = {
  edge: {
    label: "Edge to the light",
    short: "edge to look at",
    look: "The blade on a straight edge, a window behind. Which is yours?",
    tolerance: "No light through, from end to end.",
    good: "Straight",
    good_sub: "as it should be",
  },
  projection: {
    label: "A hair proud",
    short: "a hair proud",
    look: "Equal feelers at both sides, the straight edge over them: it just touches the blade.",
    tolerance: "0.03 to 0.08 mm, alike at both sides.",
    good: "A hair, good",
    good_sub: "the feelers fit",
  },
  middle_stop: {
    label: "Middle stop",
    short: "middle stop",
    look: "The dot stands where it was written down, and the lock nut holds.",
    tolerance: "To the eighth.",
    good: "It stands right",
    good_sub: "as written down",
  },
  shoulder_stop: {
    label: "Shoulder stop",
    short: "shoulder stop",
    look: "The dot stands where it was written down, and the lock nut holds.",
    tolerance: "To the eighth.",
    good: "It stands right",
    good_sub: "as written down",
  },
  pivot: {
    label: "Arm and carriage",
    short: "oil due",
    look: "Both run freely, without cane: no catch and no play.",
    tolerance: "The arm swings by one finger.",
    good: "They run freely",
    good_sub: "nothing catches",
  },
  template: {
    label: "Template tight",
    short: "template",
    look: "Both its screws hold; nothing moves under the thumb.",
    tolerance: "No play at all.",
    good: "It is tight",
    good_sub: "nothing moves",
  },
  scrap: {
    label: "A scrap first",
    short: "a scrap to try",
    look: "A scrap, held in the machine, gives a thin clean chip.",
    tolerance: "No shred, no dust, a square line at both shoulders.",
    good: "A thin chip",
    good_sub: "as it should be",
  },
  lot: {
    label: "The lot",
    short: "new lot",
    look: "A piece measured at its centre line.",
    tolerance: "Within 0.05 mm of the last lot the stops stay.",
    good: "Gouge is right",
    good_sub: "the stops stay",
  },
  soaked: {
    label: "Soaked through",
    short: "soaked",
    look: "A piece bends a little, and a shaving comes off cleanly.",
    tolerance: "Neither hard nor soft.",
    good: "It is ready",
    good_sub: "bends and cuts cleanly",
  },
};

/** What can be wrong with a row, and where that leads. */
export interface Wrong {
  code: string;
  label: string;
  sub: string;
}

export const wrongs: Readonly<Record<What, readonly Wrong[]>> = {
  edge: [
    { code: "hollow", label: "hollow", sub: "light in the middle: blunt" },
    { code: "nicked", label: "nicked", sub: "light at one spot: grind" },
  ],
  projection: [
    { code: "not_biting", label: "Not biting", sub: "" },
    { code: "too_far", label: "Too far out", sub: "" },
  ],
  middle_stop: [{ code: "moved", label: "It moved, or must move", sub: "sets it, with why" }],
  shoulder_stop: [{ code: "moved", label: "It moved, or must move", sub: "sets it, with why" }],
  pivot: [{ code: "stiff", label: "It catches", sub: "a drop of thin oil" }],
  template: [
    { code: "loose", label: "It is loose", sub: "tighten it" },
    { code: "other", label: "Another one is on", sub: "write it down" },
  ],
  scrap: [
    { code: "too_far", label: "A shred", sub: "the blade is too far out" },
    { code: "not_biting", label: "Dust, or nothing", sub: "the blade does not bite" },
    { code: "thick", label: "Thick or thin at the middle", sub: "the middle stop" },
  ],
  lot: [{ code: "gouge", label: "Another gouge", sub: "write the figure down" }],
  soaked: [
    { code: "still_hard", label: "Still hard", sub: "back into the water" },
    { code: "too_soft", label: "Too soft", sub: "let it lie in air a while" },
  ],
};

export const remedies: Readonly<Record<string, readonly string[]>> = {
  hollow: [
    "A bowed edge is blunt: it tears, and takes twice the strokes.",
    "Fit another blade; this one goes into the box for the grinder.",
  ],
  nicked: [
    "A nick leaves a line in every piece.",
    "Fit another blade; this one goes into the box for the grinder.",
  ],
  not_biting: [
    "Loosen the blade in its housing.",
    "Push it out by a hair, alike at both sides, and tighten it.",
    "Feelers again; then a scrap.",
  ],
  too_far: [
    "Loosen the blade in its housing.",
    "Draw it back by a hair, alike at both sides, and tighten it.",
    "Feelers again; then a scrap.",
  ],
  stiff: [
    "A drop of thin oil at the pivot and on the slides.",
    "Swing the arm, run the carriage, and wipe everything dry.",
  ],
  loose: ["Tighten both screws, a little each in turn.", "Then a scrap: the curve may have shifted."],
  still_hard: ["Put it back; the clock goes on.", "A hard piece blunts the edge and splits."],
  too_soft: ["Lay it out in the air for some minutes, bark up.", "A soft piece shreds."],
};

export const whys = [
  "new blade",
  "another lot",
  "middle too thick",
  "middle too thin",
  "shoulder too thick",
  "shoulder too thin",
  "to try",
] as const;

export const answer_words: Readonly<Record<Answer, string>> = {
  good: "good",
  needs_work: "needs work",
  not_looked: "not looked at",
};

export const words = {
  room: "Set-up",
  not_written: "not written down",
  /** The head of the slip. */
  head: (day: string | null, changes: readonly string[]): string =>
    day === null
      ? "Set-up, the first one written down"
      : changes.length === 0
        ? `Set-up, all as on ${day}`
        : `Set-up, as on ${day}, but ${changes.join(", ")}`,
  change: (why: Why, row: string): string =>
    why === "new_blade"
      ? "new blade"
      : why === "new_lot"
        ? "new lot"
        : why === "oil_due"
          ? "oil due"
          : why === "near_count"
            ? "edge near its count"
            : why === "setting_moved"
              ? "a screw moved"
              : row,
  blade: (label: string): string => `blade ${label}`,
  no_blade: "no blade written down",
  which_blade: "Which blade is in it?",
  which_blade_sub: "then pieces are counted on its edge",
  near: (pieces: string): string => `${pieces} cut: look for a bow`,
  cut: (label: string, pieces: string): string => `blade ${label}, ${pieces} cut`,
  set_on: (value: string, day: string): string => `${value}, set ${day}`,
  oil: "Oil the pivot",
  never_on_cane: "never on cane",
  template: (name: string): string => `template ${name}`,
  lot: (label: string): string => `Lot ${label}, gouge`,
  gouge_was: (now: string, was: string): string => `${now}, was ${was}`,
  in_water: (minutes: string): string => `${minutes} in water`,
  scrap_sub: "a thin clean chip",
  others: (n: string): string => `The other ${n}`,
  all_of_it: "All of it",
  as_on: (day: string): string => `as on ${day}`,
  look_at_once: "to look at once",
  fold: "Fold them away",
  row_good: (row: string): string => `${row}: good`,
  to_tick: (n: string): string => `${n} to tick`,
  rest_good: (day: string | null): string => (day === null ? "The rest is good" : `The rest: as on ${day}`),
  all_good: (day: string): string => `All as on ${day}`,
  then_bench: "then the bench",
  to_bench: "To the bench",
  all_looked: "all is looked at",
  work_left: (n: string): string => `${n} wants work`,
  not_looked: "Not looked at",
  back: "Back to the slip",
  needs_work: "needs work",
  another_machine: (name: string): string => `Set up ${name}`,
  straight: "straight",
  straight_sub: "no light through",
  fingers_edge: "Keep fingers off the edge.",
  fingers_edge_text: "Hold the back; never try an edge on skin. Not to scale.",
  fingers_clear: "Move fingers clear first.",
  fingers_clear_text: "The machine holds the cane, not the hand.",
  oil_order: "Keep oil off cane and bed.",
  oil_text:
    "A reed goes into a mouth. A lubricant for incidental food contact (21 CFR 178.3570) is the safe choice. Sprays: air, no flame.",
  manual: "The machine's own manual, local rules and a qualified person come first.",
  or_scrap: "or scrap on the easel",
  shred: "shred",
  thin_chip: "thin chip",
  not_to_scale: "not to scale",
  straight_edge: "straight edge",
  feeler: (value: string): string => `feeler ${value}`,
  sole: "sole",
  stands_now: "now",
  goes_to: "then",
  lock_nut: "lock nut",
  hold_nut: "Hold its nut while you turn.",
  // the screw
  how_written: "How do you write it down?",
  way_turns: "turns from a mark",
  way_mm: "mm on a gauge",
  way_words: "in words",
  stands_at: "stands at",
  turns_unit: "turns",
  mm_unit: "mm",
  by_turns: (sense: string): string => `turn, ${sense}`,
  stays: "as it stands",
  moves: (value: string, down: boolean): string => `The stop goes ${down ? "down" : "up"} by ${value}.`,
  per_turn: (turn: string, eighth: string): string =>
    `This screw moves ${turn} a turn; an eighth is ${eighth}.`,
  no_thread: "With the screw's thread (Machine), the height of a turn is said here.",
  why: "Why?",
  why_own: "Why, in your words",
  screw_moved: "Screw moved",
  blade_set: "Blade set",
  template_on: "Template on",
  new_setting: "a new setting, with why",
  leave: "Leave it as it is",
  projection: "stands out by",
  template_name: "Which template?",
  gouge: "gouge at the centre",
  gouge_kept: "Gouge measured",
  gouge_sub: "kept with the lot",
  change_blade: "Change the blade",
  change_blade_sub: "then projection and both stops",
  oiled: "Oiled and wiped dry",
  tightened: "Tight now",
  to_soak: "To the jars",
  row_is_good: "the row is good",
  // first machine
  first_title: "Your machine",
  first_ask: "What do you call it?",
  first_name: "Machine 1",
  keep: "Keep it",
  later: "Later",
  first_text:
    "One name is enough. Screws, template and habits can be written down in Machine when they matter.",
} as const;

/** Height in words, two digits. */
export const height = mm2;
