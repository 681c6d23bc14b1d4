/** What a person reads of how long pieces take, how sharp an edge is, and whether it is going off. */
import { list, near, number, pieceCount, plural } from "../language/format";

const TIMES = "9 times in 10";
const lotOf = (label: string | null): string => (label === null ? "this lot" : `lot ${label}`);
const hundredths = (part: number): string => number(Math.round(Math.abs(part) * 100));
const percent = (part: number): string => `${hundredths(part)} %`;
const aMinute = (min: number): string => number(min, min < 10 ? 1 : 0);
const range = (low: number, high: number): string => `${aMinute(low)} to ${aMinute(high)}, ${TIMES}`;

// at the bench, where there is room for little
export const aPiece = (min: number, isOthers: boolean): string =>
  isOthers ? `about ${number(min, 0)} min each` : `${aMinute(min)} min a piece`;
export const doneAbout = (at: number, isShort: boolean): string =>
  `done ${isShort ? "" : "about "}${near(at)}`;
export const doneBetween = (from: number, to: number): string => `${near(from)} to ${near(to)}`;
export const goingOffQuietly = "edge going off";

// how long it takes, in full
export const takes = (label: string | null, likely: number, low: number, high: number): string =>
  `A piece of ${lotOf(label)} takes about ${aMinute(likely)} min (${range(low, high)}).`;
export const takesFresh = (label: string | null, likely: number, low: number, high: number): string =>
  `On a fresh edge, a piece of ${lotOf(label)} takes about ${aMinute(likely)} min (${range(low, high)}).`;
export const rest = (pieces: number, likely: number, low: number, high: number): string =>
  `The ${pieceCount(pieces)} left: ${number(Math.round(likely))} min (${number(Math.round(low))} to ${number(Math.round(high))}, ${TIMES}), pauses apart.`;
export const restsOn = (pieces: number, label: string | null): string =>
  `From ${number(pieces)} fully counted ${plural(pieces, { one: "piece", other: "pieces" })} of ${lotOf(label)}.`;
export const asOthers = (wanting: number, today = 0): string =>
  `${today > 0 ? `From ${number(today)} of today, and as` : "As"} your other lots took: ${number(wanting)} more ${plural(wanting, { one: "piece", other: "pieces" })} of this one and I can say.`;
export const slower = (label: string | null, likely: number, low: number, high: number): string => {
  const [least, most] = likely > 0 ? [low, high] : [-high, -low];
  return `${label === null ? "This lot" : `Lot ${label}`} takes ${percent(likely)} ${likely > 0 ? "longer" : "less"} than your other lots (${hundredths(least)} to ${percent(most)}, ${TIMES}).`;
};
export const turns = (mean: number, low: number, high: number): string =>
  low === high
    ? `About ${number(Math.round(mean))} turns.`
    : `About ${number(Math.round(mean))} turns (${number(low)} to ${number(high)}, ${TIMES}).`;
export const sharpness = (index: number, low: number, high: number, others: number): string =>
  `The edge cuts at ${number(Math.round(index))} of a fresh one's 100 (${number(Math.round(low))} to ${number(Math.round(high))}); usual at its age: ${number(Math.round(others))}.`;
export const whyPace = "What the minutes rest on";
export const whyEdge = "How this edge cuts";

// the edge that is going off
export const goingOff = (blade: string): string => `Blade ${blade}: this edge is going off.`;
export const lookAtIt = "Look at it before the next batch.";
export const isWell = (blade: string | null): string =>
  `${blade === null ? "This edge" : `Blade ${blade}`}: nothing speaks against this edge.`;
export const slowerSince = (rise: number, piece: number): string =>
  `minutes a piece up by ${percent(Math.exp(rise) - 1)} since piece ${number(piece)}`;
export const lostOfLast = (lost: number, of: number): string =>
  `${number(lost)} lost of the last ${number(of)}`;
export const notLookedAt = (piece: number | null): string =>
  piece === null ? "not looked at on this edge" : `last seen straight at piece ${number(piece)}`;
export const drifts = (point: string, wet: boolean): string =>
  `the ${point} measures otherwise (${wet ? "wet" : "dry"}) than after it was set`;
export const speaks = (reasons: readonly string[]): string => {
  const said = list(reasons);
  return `${said.charAt(0).toUpperCase()}${said.slice(1)}.`;
};
export const watchFrom = (pieces: number, onceIn: number): string =>
  `From ${number(pieces)} pieces of good edges here. A false alarm about once in ${number(onceIn)} pieces.`;
export const watchWanting = (n: number): string =>
  `${number(n)} more fully counted ${plural(n, { one: "piece", other: "pieces" })} on good edges and I can watch. Until then, by practice: look for a bow after 200 pieces.`;

// what speaks for it
export const paceTitle = (label: string | null): string =>
  label === null ? "Minutes a piece" : `Minutes a piece, lot ${label}`;
export const watchTitle = (machine: string, blade: string | null): string =>
  blade === null ? machine : `${machine}, blade ${blade}`;
export const paceChart = "minutes that each piece of this lot took, with the range that 9 in 10 keep to";
export const watchChart =
  "minutes that each piece on this edge took, with what is usual while an edge is well";
export const axisMinutes = "minutes a piece";
export const axisPieces = "piece on this edge";
export const axisOrder = "pieces of this lot, as they came off";
export const from = (piece: number): string => `from piece ${number(piece)}`;
export const columns = {
  piece: "piece",
  minutes: "minutes",
  usual: "usual",
  outcome: "outcome",
  batch: "batch",
  pieces: "pieces",
  middle: "middle one",
  from: "9 in 10 from",
  to: "to",
};
export const noPiece = "No piece on this edge yet.";
export const notCounted = "not fully counted";
export const hand = "Watched how keenly?";
export const usually = "as usual";
export const usuallySub = (onceIn: number | null): string =>
  onceIn === null ? "" : `a false alarm about once in ${number(onceIn)} pieces`;
export const keener = "keener";
export const alsoBy = "Also by run rules";
export const noRules = "none";
export const noRulesSub = "as it is until you choose";
export const western = "Western Electric";
export const westernSub = "four tests; a false alarm about once in 92 pieces";
export const nelson = "Nelson";
export const nelsonSub = "tests 1, 2, 5 and 6; a false alarm about once in 109 pieces";
export const ruleSays = (piece: number): string => `The run rules signal at piece ${number(piece)}.`;
export const goodStretch = "first pieces of an edge that count as good";

export const howPace = [
  "Only pieces that were fully counted: no pause, nothing put right, tapped as they came off. Values far off (a kettle, two taps at once) are left out.",
  "The logarithm of the minutes is fitted by lot, machine and the edge's age (least squares); pieces differ by so much, sessions by so much more. A hundred pieces are taken to cost an edge about 5 %, until yours say otherwise. The range holds 9 times in 10; it is wide while each lot was cut on another part of one edge.",
  "At the bench, today's own pieces move it: a slow day makes the rest of the batch later.",
];
export const howWatch = [
  "What is usual comes from good stretches: the first pieces of every edge, and later ones but for its last 72. The band holds 997 of 1,000 pieces of an edge that is well; the line is a running mean (EWMA, weight 0.2).",
  "For every piece from which the edge might be going off, and four speeds, the minutes and losses are held against those of a good edge, and what speaks for it is summed up (a CUSUM of likelihoods). What a slow day or another lot adds to all its pieces does not count. Early on, while edges are usually good, more has to speak against one.",
  "When the sum passes its limit, the edge is named. Found straight at set-up, it begins anew.",
];
