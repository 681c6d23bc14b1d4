/** All words of the bench, the wind down and what is written up later. */
import { clockTime, list, near, number, pieceCount, plural, wait } from "../language/format";
import { outcomeCount, outcomeCounts } from "../language/outcome_words";
import type { Outcome } from "./model";

export const outcomeWords: Record<Outcome, string> = { good: "Good", second: "Second", lost: "Lost" };

/** What is seen on a piece, in the order of the table of faults: the first eight have drawings of their own. */
export const faultWords: Record<string, string> = {
  ridge_middle: "ridge left at the middle",
  step_shoulder: "step beside the shoulder",
  shoulder_slanted: "shoulder line slanted or uneven",
  dig_in: "dig-in or hole",
  torn: "torn, shredded surface",
  chatter: "chatter, a rippled surface",
  split: "split along the grain",
  hard_work: "hard work, little comes off",
  cut_through: "cut through at the middle",
  thick_middle: "thick at the middle",
  bark_left: "flats of bark left",
  edge_lifted: "edge lifted at the shoulder",
  one_side_thick: "one side thicker",
  slipped: "slipped on the easel",
  twisted: "twisted, or folds off the line",
  drift: "drifting over weeks",
  not_sure: "not sure",
  not_said: "not said",
};

export const faultWord = (code: string): string => faultWords[code] ?? code;
/** What can be said to be wrong with a piece. */
export const faults = Object.keys(faultWords).filter((code) => code !== "not_said");

export const count = outcomeCount;
export const tallyLine = (done: { good: number; second: number; lost: number }): string =>
  outcomeCounts(done, noneYet);

export const bench = "Bench";
export const noneYet = "none yet";
export const good = "Good";
export const goodSub = "next piece on";
export const second = "Second";
export const lost = "Lost";
export const pause = "Pause";
export const takeBack = "Take back";
export const nothing = "nothing";
export const ofAll = (all: number): string => `of ${number(all)}`;
export const done = "done";
export const pieceNow = (n: number, all: number | null): string =>
  all === null ? `piece ${number(n)}` : `piece ${number(n)} of ${number(all)}`;
export const lot = (label: string): string => `lot ${label}`;
export const blade = (label: string): string => `blade ${label}`;
export const noBatch = "no batch";
export const inWater = (min: number): string => `${wait(min)} in water`;
export const aPiece = (min: number): string =>
  `${number(min < 1 ? Math.round(min * 10) / 10 : Math.round(min * 2) / 2)} min a piece`;
export const doneBy = (at: number): string => `done by ${near(at)}`;
export const putRightOpen = (line: string): string => `${line}: put right`;
export const change = "change batch, machine, turns";

export const leave = "Leave it";

export const twoAsk = "Two pieces?";
export const twoSub = "going on: one";
export const two = "Two";

export const turns = (n: number): string => plural(n, { one: "turn", other: "turns" });
export const usual = (from: number, to: number): string =>
  from === to ? `usual ${number(from)}` : `usual ${number(from)} to ${number(to)}`;
export const turned = "Turned";
export const turnedSub = "the other end to the blade";
export const half = { first: "first half under the blade", second: "second half under the blade" };
export const onBark = "bark: a light hand";
export const offBark = "a little firmer, through to the middle";

export const lostTitle = (place: number): string => `Piece ${number(place)}, lost`;
export const whatSeen = "What was seen?";
export const more = "More";
export const fewer = "The eight";
export const notSure = "Not sure";
export const goodNext = (place: number): string => `piece ${number(place)}; this one can wait`;

export const paused = (at: string): string => `Paused since ${near(at)}`;
export const doneSoFar = (all: number | null): string => (all === null ? "done" : `of ${number(all)} done`);
export const meanwhile = "Meanwhile";
export const nothingMeanwhile = "Nothing is in the water.";
export const jar = (jar: string, at: number): string => `jar ${jar}, ready at ${near(at)}`;
export const readyIn = (what: string, left: number): string =>
  left > 0 ? `${what}: ${wait(Math.ceil(left))}` : `${what}: ready`;
export const pieceWithout = (place: number): string => `Piece ${number(place)} counts, without its minutes.`;
export const goOn = (place: number): string => `Go on: piece ${number(place)}`;
export const goOnSub = "or space, or the pedal";
export const windDown = "Wind down";
export const windDownSub = "this batch is done";
export const oneMoreOn = "One more";

export const putRight = "Put right";
export const putRightSub = "the last ten; tap one";
export const nothingYet = "Nothing has come off yet.";
export const pieceWas = (place: number, at: string | null): string =>
  at ? `Piece ${number(place)}, at ${near(at)}, was` : `Piece ${number(place)} was`;
export const leaveIt = (outcome: Outcome | null): string =>
  outcome ? `Leave it ${outcomeWords[outcome].toLowerCase()}` : "Leave it as it is";
export const back = "Back to the bench";
export const countsFollow = "all counts follow";
export const missed = "One more was done";
export const missedSub = "a tap was missed; no minutes for it";
export const pieceSaid = (place: number, outcome: Outcome, seen: string[]): string =>
  [`piece ${number(place)}`, outcomeWords[outcome].toLowerCase(), ...seen.map(faultWord)].join(", ");
export const whatSeenOn = "What was seen on it";
export const bladeForgotten = "The blade was changed here";
export const bladeForgottenSub = (place: number): string => `before piece ${number(place)}; counts follow`;

export const two_title = (place: number, batch: string | null, a: Outcome, b: Outcome): string =>
  `Piece ${number(place)}${batch ? ` of ${batch}` : ""}: ${outcomeWords[a].toLowerCase()} or ${outcomeWords[b].toLowerCase()}?`;
export const one_title = "One session, or two?";
export const one_sub = "two phones began at one machine";

export const whichMachine = "What is the machine called?";
export const whichMachineSub = "its counts of pieces, blades and oil stand under this name";
export const machineField = "machine";
export const whichBatch = "What goes through today?";
export const whichBatchSub = "a batch is pieces of one lot that go through together";
export const batchField = "label on the bag";
export const later = "Later";
export const laterSub = "count now, say it afterwards";
export const keep = "Keep it";
export const onTitle = "What is on";
export const batchesOpen = "Batch";
export const machines = "Machine";
export const leftOf = (left: number, all: number): string => `${number(left)} of ${number(all)} to go`;
export const newBatch = "A new batch";
export const tooOf = (n: number, batch: string): string => `The ${pieceCount(n)} before are of ${batch} too`;
export const goesThere = "this session goes there";
export const countTurns = "Count turns";
export const countTurnsSub = "a tap or the pedal at every turn";
export const atPiece = "piece on the easel";
export const atPieceSub = "if this phone took over from another";
export const anotherMachine = "Name the machine";

export const today = "Today";
export const cautionBlade = "Move fingers clear of the blade first.";
export const cautionBladeWhy =
  "Never test an edge on skin; carry it housed. Keep oil off cane and bed. Dry hands before you touch a plug.";
export const wind = {
  title: "Wind down",
  sub: (what: string, n: number, from: string | null, to: string): string =>
    [what, pieceCount(n), from ? `${clockTime(from)} to ${clockTime(to)}` : null].filter(Boolean).join(", "),
  nothing: "There is no session to close.",
  toBench: "To the bench",
  all: "All as usual",
  allSub: "every line below, done",
  close: "Close the session",
  closeSub: (unticked: number): string => (unticked ? `${number(unticked)} not ticked` : "every line ticked"),
  wiped: "Blade and bed wiped dry",
  wipedSub: "move fingers clear first",
  housed: "Blade housed",
  housedSub: (label: string, n: number | null): string =>
    n === null ? `blade ${label}` : `${number(n)} cut on blade ${label}`,
  oiled: "Oil, wiped off",
  oiledSub: "due; never on cane or bed",
  jars: "Jars emptied, washed",
  jarsSub: "standing water grows mould",
  dried: "What is left laid out to dry",
  dust: "Dust wiped up wet",
  left: "left in the water",
  lostTo: (list: string): string => `Lost: ${list}`,
  placesOf: (places: number[]): string =>
    `${plural(places.length, { one: "piece", other: "pieces" })} ${list(places.map((n) => number(n)))}`,
  note: "note",
  ended: (at: string): string => `Closed at ${clockTime(at)}`,
  again: "Open it again",
};
