/** The words of a question that two phones left open. */
import { clockTime, number, pieceCount } from "../language/format";
import type { Outcome } from "./model";
import { outcomeWords } from "./words";

export const two_sub = "two phones, one piece";
export const thisPhone = "this phone";
export const otherPhone = "another phone";
export const saidAt = (who: string, at: string): string => `${who}, ${clockTime(at)}`;
export const inMinutes = (min: number): string => `in ${number(min, 1)} min`;
export const wereTwo = "These were two pieces";
export const wereTwoSub = "each counts for itself";
export const two_meanwhile = (counts: Outcome): string =>
  `Nothing waits for this. Till you say, the piece counts as ${outcomeWords[counts].toLowerCase()}; both entries stay in Records.`;
export const askLater = "Ask me later";
export const askLaterSub = "it stays in Today";

export const one_yes = "One session";
export const one_yesSub = "the pieces of both stand in one row";
export const one_no = "Two sessions";
export const one_noSub = "each stays as it is";
export const one_meanwhile = (a: string, na: number, b: string, nb: number): string =>
  `Begun at ${clockTime(a)} with ${pieceCount(na)}, and at ${clockTime(b)} with ${pieceCount(nb)}. Every piece counts once, either way.`;

export const settled = "That is settled.";
export const settledSub = "Nothing is asked about any more.";
