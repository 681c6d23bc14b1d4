/** What a person reads of how many pieces to start, and of how many of a lot come out good. */
import { day, number, plural } from "../language/format";
import { stageDone } from "../language/stage_words";
import type { Stage } from "./model";

const hundred = (share: number): string => number(Math.round(share * 100));
const lotCalled = (label: string | null): string => (label === null ? "" : ` of lot ${label}`);

export const wanted = "good ones wanted";
export const start = (good: number, pieces: number, label: string | null): string =>
  `${number(good)} good wanted: start ${number(pieces)}${lotCalled(label)} (9 times in 10)`;
export const range = (even: number, surer: number): string =>
  `${number(even)} are enough half the time; with ${number(surer)} it is 19 times in 20.`;
export const through = (good: number, stage: Stage, pieces: number): string =>
  `For ${number(good)} ${stageDone[stage]}: start ${number(pieces)}.`;
export const fromLot = (good: number, tried: number, label: string | null): string =>
  `From ${number(good)} good of ${number(tried)}${label === null ? "" : `, lot ${label}`}.`;
export const fromLots = (lots: number, wanting: number, label: string | null): string =>
  `From ${number(lots)} ${plural(lots, { one: "lot", other: "lots" })} so far; ${morePieces(wanting)}${lotCalled(label)} and I can say for this one.`;
export const practice = (good: number, pieces: number, wanting: number): string =>
  `${number(good)} good wanted: ${number(pieces)} by common practice, a quarter more. ${morePieces(wanting)} and I can say.`;
const morePieces = (n: number): string => `${number(n)} more ${plural(n, { one: "piece", other: "pieces" })}`;
export const take = (pieces: number): string => `Start ${number(pieces)}`;
export const instead = (pieces: number): string => `instead of ${number(pieces)}`;
export const why = "Why so many?";
export const rest = (left: number, fewest: number, most: number, all: readonly [number, number]): string =>
  `Of the ${number(left)} still to cut, ${number(fewest)} to ${number(most)} come out good: ${number(all[0])} to ${number(all[1])} in all, 9 times in 10.`;

export const title = (label: string | null): string =>
  label === null ? "Good ones, lot by lot" : `Good ones of lot ${label}`;
export const answer = (good: number, tried: number, low: number, high: number): string =>
  `${number(good)} of ${number(tried)} came out good: ${hundred(low)} to ${hundred(high)} of a hundred, 9 times in 10.`;
export const comesOut = "How it comes out";
export const soaks = "How long it soaks";
export const answerAll = (low: number, high: number): string =>
  `Of a lot that was never cut, ${hundred(low)} to ${hundred(high)} of a hundred come out good, 9 times in 10.`;
export const fromBatches = (n: number): string =>
  plural(n, { one: "one batch at the machine", other: `the last ${number(n)} batches at the machine` });
export const fromAllLots = (n: number): string =>
  plural(n, { one: "one lot at the machine", other: `the last ${number(n)} lots at the machine` });
export const chart = "good ones of a hundred, with the range that holds 9 times in 10";
export const ofHundred = "good of 100";
export const others = "the other lots";
export const columns = {
  batch: "batch",
  lot: "lot",
  day: "day",
  good: "good",
  tried: "tried",
  share: "of 100",
};
export const dayShort = (written: string | null): string => (written === null ? "" : day(written));
export const against = (good: number, tried: number, chance: number): string =>
  `Of the other lots ${number(good)} of ${number(tried)} came out good. ${
    chance < 0.05
      ? `So few as here would come by chance ${often(chance)} if the lots were alike: this lot loses more.`
      : `So few as here come by chance ${often(chance)} where lots are alike: nothing speaks against this one.`
  }`;
const often = (chance: number): string =>
  chance < 0.01 ? "less than once in 100 times" : `${hundred(chance)} times in 100`;
export const wanting = (n: number): string => `${morePieces(n)} and this lot speaks for itself.`;
export const how = [
  "Every piece of a lot is taken to come out good with the same chance. What that chance is, is not known: what was counted says how likely each is (beta-binomial, with the prior of Jeffreys: half a good piece and half a lost one).",
  "The number to start is the smallest with which enough come out good in 9 of 10 of all these cases. Seconds are tried, not good.",
  "A lot of which fewer than 15 pieces were tried leans on the lots before it; the more those differ, the wider it is.",
];
