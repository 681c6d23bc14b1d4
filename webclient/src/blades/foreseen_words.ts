/** What a person reads of how long an edge still lasts, and of what goes to be ground. */
import { day, number, plural } from "../language/format";

const TIMES = "9 times in 10";

/** "about 90": no finer than it is known. */
const step = (n: number): number => (n >= 50 ? 10 : n >= 20 ? 5 : 1);
const about = (n: number): string => number(Math.round(n / step(n)) * step(n));
const atLeast = (n: number): string => number(Math.floor(n / step(n)) * step(n));
const atMost = (n: number): string => number(Math.ceil(n / step(n)) * step(n));
const edges = (n: number): string => `${number(n)} ${plural(n, { one: "edge", other: "edges" })}`;
const blades = (n: number): string => `${number(n)} ${plural(n, { one: "blade", other: "blades" })}`;
const hundred = (share: number): string => number(Math.round(share * 100));

export const left = ([lower = 0, median = 0, upper = 0]: readonly number[]): string =>
  `About ${about(median)} pieces left (${atLeast(lower)} to ${atMost(upper)}, ${TIMES}).`;
export const ends = (lower: string, upper: string, today: string): string =>
  lower === today
    ? `At your pace it is blunt by ${day(upper)}, perhaps today.`
    : `At your pace it goes blunt between ${day(lower)} and ${day(upper)}, ${TIMES}.`;
export const no_pace = "Too few days at this machine yet: no day can be said.";
export const look_at = (pieces: number, isLimit: boolean): string =>
  isLimit
    ? `Look for a bow at ${number(pieces)} pieces: your own limit.`
    : `Look for a bow from ${number(pieces)} pieces on: one edge in ten is blunt by then.`;
export const look_now = (pieces: number): string => `It has cut ${number(pieces)}: look for a bow now.`;
export const change_on = (on: string): string => `Change it about ${day(on)}.`;
export const change_before = (on: string, batch: string): string =>
  `Change it on ${day(on)}, a quiet day: batch ${batch} is planned next. A change takes an hour.`;
export const change_after = (on: string, batch: string): string =>
  `No quiet day is left before batch ${batch}: change it on ${day(on)}, or move the batch.`;
export const from = (ended: number, wanting: number, apart: "blade" | "machine" | null): string =>
  wanting > 0
    ? `By common practice${ended > 0 ? ` and ${edges(ended)} here` : ""}; ${number(wanting)} more ${plural(wanting, { one: "edge", other: "edges" })} and I can say.`
    : apart === null
      ? `From ${edges(ended)} that went off here.`
      : `From ${edges(ended)} of this ${apart}, which last otherwise than the others here.`;
/** Of all edges here, within a sentence. */
export const life_from = (ended: number, wanting: number): string => {
  const said = from(ended, wanting, null);
  return `How long an edge lasts: ${said.charAt(0).toLowerCase()}${said.slice(1)}`;
};
export const why = "Why so many?";

// the evidence for one edge
export const title = (label: string | null): string =>
  label === null ? "How long edges last" : `How long blade ${label} still lasts`;
export const all = (from: number, to: number): string =>
  `Two edges in three are blunt by about ${about((from + to) / 2)} pieces (${atLeast(from)} to ${atMost(to)}, ${TIMES}).`;
export const rests_on = (ended: number, cutting: number): string =>
  `${edges(ended)} that went off, ${number(cutting)} that still cut or came out before`;
export const chart = "of a hundred edges, how many still cut after so many pieces";
export const of_hundred = "of 100 edges still cut";
export const pieces = "pieces cut";
export const cut_now = (label: string): string => `blade ${label}`;
export const limit = "your limit";
export const columns = {
  pieces: "pieces",
  of_hundred: "of 100",
  error: "give or take",
  edges: "edges",
};
export const harder = (lots: readonly string[]): string =>
  `Hard cane wears an edge faster: ${lots.join(", ")}.`;
export const lot_factor = (label: string, factor: number): string =>
  `a piece of lot ${label} as ${number(factor, 1)} others`;
export const how = [
  "The steps are your own edges: each goes down where one went off (Kaplan and Meier). Edges that still cut, or came out before half of your limit, count for as long as they were watched.",
  "The curve is a law of wear (Weibull) fitted to them; the band holds it 9 times in 10. With few edges common practice still has its say, and the more of your own went off the less.",
  "What is left is what the law says of an edge that has lasted so long already. The day follows from the pieces of the last weeks, which come by the batch: both are uncertain, so the range is wider than either.",
  "A blade that was sent early for another reason than wear counts as worn off once it has cut half of your limit.",
];

// grinding
const cost = (n: number, one: string, box: string): string =>
  n === 1 ? `one alone costs ${one}, a box ${box}.` : `${number(n)} one by one cost ${one}, the box ${box}.`;
export const send_one = (n: number): string => `Send ${number(n)} now.`;
export const send_box = "Send the box now.";
export const wait_for = (n: number): string =>
  `Wait for the box: ${number(n)} more ${plural(n, { one: "makes", other: "make" })} it full.`;
export const nothing = "No blade waits to be ground.";
export const costs = (n: number, one: string | null, box: string | null): string =>
  one === null || box === null
    ? "What grinding costs is not written down: Machine, the workshop."
    : sentenceOf(cost(n, one, box));
const sentenceOf = (text: string): string => text.charAt(0).toUpperCase() + text.slice(1);
const often = (chance: number): string =>
  chance < 0.005 ? "less than once in 100 times" : `${hundred(chance)} times in 100`;
export const without = (n: number, chance: number): string =>
  n === 0
    ? "No blade is left here that cuts."
    : `With the ${blades(n)} here you stand without one ${often(chance)} before they are back.`;
export const without_waiting = (chance: number): string =>
  `If you wait until the box is full, ${often(chance)}.`;
export const needed = (needed: number, have: number): string =>
  `At your pace ${blades(needed)} keep that under 5 in 100; you have ${number(have)}.`;
export const grinding_from = (sendings: number, days: number): string =>
  sendings === 0
    ? `Two weeks away, by common practice: nothing was sent and came back yet.`
    : `Away ${number(Math.round(days))} days, from ${number(sendings)} ${plural(sendings, { one: "sending", other: "sendings" })} here.`;
export const grinding_why = "How many blades are enough?";
export const no_work = "Too few days at the bench yet: how many blades are enough cannot be said.";
export const grinding_title = "How many blades are enough";
export const grinding_answer = (needed: number): string =>
  `${blades(needed)} are enough: you stand without one at most 5 times in 100.`;
export const ahead = (lower: number, upper: number, days: number): string =>
  `In the coming ${number(days)} days you cut ${atLeast(lower)} to ${atMost(upper)} pieces, ${TIMES}.`;
export const grinding_chart = "times in a hundred that you stand without a blade, by how many there are";
export const grinding_x = "blades, the one in use among them";
export const grinding_y = "times in 100";
export const five = "5 in 100";
export const grinding_columns = {
  blades: "blades",
  without: "times in 100",
  days: "days a year",
};
export const grinding_rests = (perEdge: number, perDay: number, days: number): string =>
  `about ${about(perEdge)} pieces an edge, ${number(perDay, 1)} a day, ${number(Math.round(days))} days away`;
export const grinding_how = [
  "While blades are away, edges here are used up at your pace: how many is a Poisson number, however long the grinder takes (Palm). You stand without one when more are used up than there are.",
  "Days without are those in which all blades are away and work rests (Erlang's loss formula).",
  "The days away are the mean of your own sendings, with two weeks by common practice counted as one of them.",
];
