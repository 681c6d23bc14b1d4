/** What a person reads of readings, and of how far a screw must be turned. */
import { number, plural } from "../language/format";
import { length, lengthFigure, lengthUnit } from "../language/length";
import type { HandTurn, Move, Point } from "./foreseen_rules";
import type { Sense } from "./model";
import { sense_words, turns } from "./words";

const mm = (value: number): string => length(Math.round(Math.abs(value) * 100) / 100);
const mm3 = (value: number): string => length(Math.round(Math.abs(value) * 1000) / 1000);
const pieces = (n: number): string => `${number(n)} ${plural(n, { one: "piece", other: "pieces" })}`;

export const measure = "Measure a piece";
export const measureSub = "wet or dry, at the middle or next to the shoulder";
export const points: Readonly<Record<Point, string>> = {
  middle: "at the middle",
  shoulder: "next to the shoulder",
};
export const stops: Readonly<Record<Point, string>> = { middle: "middle stop", shoulder: "shoulder stop" };
export const pointLegend = "Where";
export const wetLegend = "The piece is";
export const wet = "wet";
export const dry = "dry";
export const keys = "thickness";
export const rubOut = "rub out the last figure";
export const write = "Write it down";
export const writeSub = (value: number, point: Point, isWet: boolean, piece: number | null): string =>
  [mm3(value), points[point], isWet ? wet : dry, piece === null ? "" : `piece ${number(piece)}`]
    .filter(Boolean)
    .join(", ");
export const outOf = (low: number, high: number): string => `Between ${mm(low)} and ${mm(high)}.`;
export const back = "Back";
export const takeBack = (value: number): string => `Take back ${mm3(value)}`;
export const since = (values: readonly number[], isWet: boolean): string =>
  `Since the screw moved: ${values.map((value) => lengthFigure(value, 2)).join(", ")} ${lengthUnit()}, ${isWet ? wet : dry}.`;
export const should = (point: Point, isWet: boolean): string =>
  `should measure ${points[point]}, ${isWet ? wet : dry}`;
export const otherwise = (isWet: boolean): string =>
  `What they should measure is said of ${isWet ? wet : dry} pieces: measure ${isWet ? wet : dry} ones, or say it anew.`;

/** `moves`: with pieces measured; 0: the thread alone. */
export const aHundredth = (degrees: number, moves: number): string =>
  `${moves === 0 ? "By the thread alone" : `By ${movesOf(moves)}`} ${number(Math.round(degrees))}° is ${mm(0.01)}. Measure three pieces and I can say how far.`;
const movesOf = (moves: number): string =>
  `${number(moves)} ${plural(moves, { one: "move", other: "moves" })} with pieces measured before and after`;
export const noThread = "Measure three pieces and I can say how far.";
export const more = (n: number): string =>
  `${number(n)} more ${plural(n, { one: "piece", other: "pieces" })} measured and I can say how far.`;
export const noWanted = "Say what the pieces should measure, and I can say how far.";
export const leave = (n: number, wanted: number): string =>
  `The last ${pieces(n)} are ${mm(wanted)}, as they should: leave the screw.`;
export const scatter = (n: number): string =>
  `The last ${pieces(n)} scatter too much to turn a screw for. Measure some more.`;
export const off = (move: Move, point: Point): string =>
  `The last ${pieces(move.pieces)} are ${mm(move.off_mm)} too ${move.off_mm > 0 ? "thick" : "thin"} ${points[point]}.`;

/** "Turn the middle stop 1/16 turn clockwise, a little less: 19°." `degrees`: clockwise positive. */
export function turn(point: Point, degrees: number, { sixteenths, than }: HandTurn): string {
  const size = Math.abs(sixteenths) / 16;
  const sense = sense_words[(degrees > 0 ? "clockwise" : "anticlockwise") as Sense];
  const little = than === null ? "" : `, a little ${than}`;
  return `Turn the ${stops[point]} ${turns(size)} ${size > 1 ? "turns" : "turn"} ${sense}${little}: ${number(Math.round(Math.abs(degrees)))}°.`;
}
/** Both ends the way that is said; or, where it may have to go the other way, so. */
function range(low: number, high: number, said: (size: number) => string): string {
  const way = Math.sign(low + high) || 1;
  const [from = 0, to = 0] = [low * way, high * way].sort((a, b) => a - b);
  const isOther = from < 0 && said(-from) !== said(0);
  return isOther
    ? `from ${said(-from)} the other way to ${said(to)}`
    : `${said(Math.max(0, from))} to ${said(to)}`;
}
export const turnRange = (low: number, high: number): string =>
  `${range(low, high, (size) => `${number(Math.round(size))}°`)}, 9 times in 10`;
export const goes = (move: Move): string =>
  `The stop goes ${move.raise_mm < 0 ? "down" : "up"} by ${mm(move.raise_mm)}`;
export const heightRange = (move: Move): string => `${range(move.low_mm, move.high_mm, mm)}, 9 times in 10`;
export const onlyHeight = "With the screw's thread and the way it lowers (Machine), the turn is said here.";
export const tooLittle = "That is less than half of 1/16 turn: leave the screw.";
export const from = (moves: number): string =>
  moves === 0 ? "by the thread alone" : `from ${movesOf(moves)}`;
export const setSo = "Set it so";
export const why = "Why so far?";

export const title = (point: Point, machine: string): string => `${machine}: ${stops[point]}`;
/** `part`: what a turn does of what the thread says. */
export const answer = (part: number, low: number, high: number): string =>
  `A turn that is ${mm(0.1)} by the thread makes the pieces ${mm(part / 10)} thicker or thinner: ${mm(low / 10)} to ${mm(high / 10)}, 9 times in 10.`;
export const lost = (mm_: number): string =>
  mm_ < 0.005
    ? "Nothing is lost when it is turned the other way."
    : `Turned the other way, ${mm3(mm_)} are lost first.`;
export const lockNut = (mm_: number): string =>
  Math.abs(mm_) < 0.003
    ? "Its lock nut leaves it where it is."
    : `Its lock nut moves it ${mm_ > 0 ? "up" : "down"} by ${mm3(mm_)}.`;
export const usualMore = (n: number): string =>
  `${number(n)} more ${plural(n, { one: "piece", other: "pieces" })} measured since the stop moved, and I can say between what they come out.`;
export const usually = (n: number, isWet: boolean, low: number, high: number): string =>
  `Nearly all come out between ${mm3(low)} and ${mm3(high)}: from ${number(n)} ${isWet ? wet : dry} pieces since the stop moved.`;
const times = ([value = 0, low = 0, high = 0]: readonly number[]): string =>
  `${number(value, 1)} times (${number(Math.max(0, low), 1)} to ${number(high, 1)}, 19 times in 20)`;
export const fits = (give: number, cp: readonly number[], cpk: readonly number[]): string =>
  `Your ${mm3(give)} either way holds their scatter ${times(cp)}; where they lie now, ${times(cpk)}. Below 1 some fall outside.`;
export const give = "may be off by";
export const notSaid = "–";
export const usualEnds = { lower: "usual from", upper: "usual to" };
export const chart = "how far the stop went by its thread, and how the pieces changed";
export const chartPieces = "what the pieces measured";
export const raised = (): string => `stop went up, ${lengthUnit()}`;
export const changed = (): string => `pieces thicker, ${lengthUnit()}`;
export const measuredAxis = (): string => lengthUnit();
export const wanted = "wanted";
export const columns = {
  day: "day",
  raised: "stop up",
  changed: "thicker",
  measured: "pieces",
  byChance: "chance",
};
/** Of a hundred times. */
export const often = (chance: number | null): string =>
  chance === null ? "" : chance < 0.01 ? "under 1" : number(Math.round(chance * 100));
export const beforeAfter = (before: number, after: number): string => `${number(before)}, ${number(after)}`;
export const how = [
  "Every move of the screw with pieces measured before and after it is a point: how far the stop went by its thread, and how much thicker the pieces became. A line through the points says what a turn really does; it begins as the thread says, give or take a quarter, and every measured move makes it surer.",
  "What is lost when the screw is turned the other way, and what the lock nut does when it is tightened, are told apart from it by the same line (a regression with three terms).",
  "In the table: how far the stop went up by its thread, how much thicker the pieces became, how many were measured before and after.",
  "Chance: how often in 100 pieces before and after differ so much where no screw was moved (the test of Welch).",
  "Between what they come out: three times the scatter from piece to piece, by how much each differs from the one before. Room is what you allow by that scatter (Cp), and with the mean where it lies (Cpk).",
  "A turn is said when at least three pieces measured since the last move, all wet or all dry, are off by more than twice the error of their mean.",
];
export const moves = (value: string, down: boolean): string =>
  `The stop goes ${down ? "down" : "up"} by ${value}.`;
export const no_thread = "With the screw's thread (Machine), the height of a turn is said here.";
