/** What a person reads of when cane is ready, as it is foreseen. */
import { clockTime, few, list, number, plural, sentence, wait } from "../language/format";
import type { Change, Pace } from "./foreseen_stagger_rules";
import type { Water } from "./model";
import { water_words } from "./words";

const marks = (n: number): string => `${number(n)} ${plural(n, { one: "mark", other: "marks" })}`;
const ofLot = (label: string | null): string => (label === null ? "all lots" : `lot ${label}`);
const min = (time_s: number): string => wait(time_s / 60);
const span = (from_s: number, to_s: number): string =>
  to_s < 3570 ? `${number(Math.round(from_s / 60))} to ${min(to_s)}` : `${min(from_s)} to ${min(to_s)}`;

export const between = (from: number, to: number): string =>
  `ready ${clockTime(from)} to ${clockTime(to)}, 9 times in 10`;
export const by = (to: number): string => `ready by ${clockTime(to)}, 19 times in 20`;
export const bestAt = (at: number): string => `best about ${clockTime(at)}`;
export const softBetween = (from: number, to: number): string =>
  `too soft ${clockTime(from)} to ${clockTime(to)}, 9 times in 10`;
export const ofOne = (name: string, parts: readonly string[]): string => `${name}: ${parts.join("; ")}.`;
export const dryBetween = (name: string, from: number, to: number, times: number): string =>
  `${name}: dry enough ${clockTime(from)} to ${clockTime(to)}, 9 times in 10; ${
    times === 0
      ? "by what a sheet of cane loses in a room's air, until you say when it was."
      : `from ${number(times)} ${plural(times, { one: "time", other: "times" })} that you said so.`
  }`;
export const after = (from_s: number, to_s: number): string =>
  `Ready after ${span(from_s, to_s)}, 9 times in 10.`;
export const afterAtMost = (to_s: number): string => `Ready after ${min(to_s)} at most, 19 times in 20.`;
export const bestAfter = (best_s: number): string => `Best after about ${min(best_s)}.`;
export const softAfter = (from_s: number, to_s: number): string =>
  `Too soft after ${span(from_s, to_s)}, 9 times in 10.`;
export const neverEarlier = "How much earlier it might do, no mark says.";

export const from = (n: number, label: string | null): string => `from ${marks(n)} of ${ofLot(label)}`;
export const fromLine = (n: number, label: string | null): string => `${sentence(from(n, label))}.`;
const guess = (n: number, label: string | null): string =>
  `A first guess, from ${marks(n)} of ${ofLot(label)}`;
export const first_guess = (n: number, label: string | null): string => `${guess(n, label)}:`;
export const few_marks = (n: number, label: string | null, wanting: number): string =>
  `${guess(n, label)}; ${more_marks(wanting)}`;
export const more_marks = (wanting: number): string =>
  `${number(wanting)} more ${plural(wanting, { one: "mark", other: "marks" })} and I can say.`;
export const elsewhere = (water: Water): string =>
  `No mark of yours in ${water_words[water]} water: worked out from the others.`;
export const no_marks = (label: string | null, wanting: number): string =>
  `${label === null ? "No mark yet" : `No mark of lot ${label} yet`}; ${number(wanting)} marks and I can say.`;

export const time = (time_s: number): string => min(time_s);
export const habit = { habit: "your habit", practice: "common practice" } as const;
export const why = "Why so long?";

const each = (pieces: number): string => few(pieces);
const minutes = (time_s: number): string => number(Math.round(time_s / 6) / 10);
const restsOn = ({ by }: Pace): string => {
  if (by === undefined) return "";
  if (typeof by === "number") return `, by ${number(by)} of today`;
  return `, as ${{ lot: "this lot", others: "your other lots", last: "your last pieces" }[by]} took`;
};
const paceIs = (pace: Pace): string => {
  const [a, b] = [minutes(pace.quick_s), minutes(pace.slow_s)];
  return `${a === b ? `At ${a} min a piece` : `At ${a} to ${b} min a piece`}${restsOn(pace)}`;
};
const when = (at: number | null): string => (at === null ? "now" : `at ${clockTime(at)}`);
/** `at`: when the first go in; null: now. */
export const row = (pace: Pace, pieces: number, every_s: number, jars: number, at: number | null): string =>
  `${paceIs(pace)}: ${each(pieces)} ${when(at)}, then ${each(pieces)} every ${min(every_s)}, in ${number(jars)} ${plural(jars, { one: "jar", other: "jars" })}; none waits and none lies too long.`;
export const together = (pace: Pace, pieces: number, at: number | null): string =>
  `${paceIs(pace)}: all ${each(pieces)} can go in together${at === null ? "" : `, ${when(at)}`}.`;
export const jars = "jars there are";
export const did_jars = "the jars";
export const first_at = "first piece at";
export const first_at_sub = "left open: as soon as it is ready";
export const too_soon = (at: number, possible: number): string =>
  `At ${clockTime(at)} nothing is ready yet: the first piece can be cut at ${clockTime(possible)}.`;
export const row_take = (pieces: number, every_s: number): string =>
  `${sentence(each(pieces))} every ${min(every_s)}`;
export const row_sub = (pieces: number, of: number): string =>
  `the first ${each(pieces)} of ${number(of)} go in now`;
export const cannot = (pace: Pace, pieces: number): string =>
  `${paceIs(pace)}, ${each(pieces)} at a time leave some late or too long in the water.`;
/** `colder_c`: water in which all takes so many times as long; null: the marks do not say, or there is none. */
export const would = (changes: readonly Change[], colder_c: (times: number) => number | null): string => {
  const said = changes.flatMap(({ what, number: n }) => {
    if (what === "more_jars") return [`${number(n)} jars`];
    if (what !== "colder_water") return [`${each(n)} at a time`];
    const c = colder_c(n);
    return c === null ? [] : [`water of ${number(c)} °C`];
  });
  return said.length === 0 ? "" : `It would do with ${list(said)}.`;
};

export const moved = (pace: Pace, pieces: number, at: number, was: number): string =>
  `At ${minutes(pace.usual_s)} min a piece${restsOn(pace)}${pace.by === undefined ? "" : ","} the next ${each(pieces)} should go in at ${clockTime(at)}, not at ${clockTime(was)}.`;
export const move = (at: number): string => `Put them in at ${clockTime(at)}`;
export const move_sub = "the others follow from there";
export const too_long = (pieces: number): string =>
  `At this pace these ${each(pieces)} would be too soft before they are wanted.`;
export const did_move = "the next group moved";

export const title = (label: string | null): string =>
  label === null ? "Time in water, all lots" : `Time in water, lot ${label}`;
export const chart = (label: string | null): string =>
  `Marks of ${ofLot(label)} by minutes in water, and the share that is ready by then`;
export const minutes_axis = (poured_c: number): string => `minutes in water of ${number(poured_c)} °C`;
export const legend_marks = "Rings: good. Crosses: still hard; red ones: too soft.";
export const share_axis = "ready, of 100";
export const columns = { minutes: "minutes", water: "water, °C", found: "found", times: "times" };
export const how = [
  "Each soak has a time of its own at which it is ready, about the lot's usual one. Still hard says that it was not reached, good that it was, too soft that it was passed by a window that is yours.",
  "Minutes in different water are compared by how much warmth speeds a soak (Arrhenius), in a jar that cools to the room within the hour, and by the square of the gouge.",
  "It starts from your habit, or from common practice: half an hour warm, some hours cold. From eight marks on yours say more. One mark in fifty is taken to be a slip of the thumb.",
  "Crosses low down: still hard. Rings at the top: good. Red crosses at the top: too soft. Soaks in other water stand where they would have been in this.",
];
