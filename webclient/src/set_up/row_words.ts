/** The words of each row of the slip: what to look at, what can be wrong, and what to do then. */
import { length, lengthFigure } from "../language/length";
import type { What } from "./model";

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
    get tolerance() {
      return `${lengthFigure(0.03)} to ${length(0.08)}, alike at both sides.`;
    },
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
    get tolerance() {
      return `Within ${length(0.05)} of the last lot the stops stay.`;
    },
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
