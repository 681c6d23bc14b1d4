/** The words of what is written up later. */
import { number, pieceCount } from "../language/format";

export const title = "Written up later";
export const today = "Today";
export const yesterday = "Yesterday";
export const earlier = "Earlier";
export const earlierDay = "the day";
export const whenLegend = "When";
export const what = "Batch";
export const stage = "Stage";
export const pieces = "pieces";
/** Which stage is counted stands beside the number: a batch that is cut is shaped next. */
export const piecesAt = (stage = ""): string => `pieces ${stage}`;
export const lost = "lost";
export const second = "seconds";
export const good = (n: number): string => `${number(n)} good`;
export const write = "Write it in";
export const fromLast = "as the last time";
export const fromBatch = "as the batch was planned";
export const toCome = "this day is still to come";
export const newOf = (lot: string): string => `new, ${lot}`;
export const newOne = "new";
export const lot = "lot";
export const whichWhy = "Which, and why?";
export const whichWhySub = "can wait";
export const written = (n: number): string => `${pieceCount(n)} written in`;
export const writtenSub = "counts and due dates follow";
export const takeBackAll = "Take it back";
export const more = "Write up more";
export const opening = "Opening count";
export const openingSub = "pieces already cut on the edge that is in now";
export const openingNow = (all: number, opening: number): string =>
  `${number(all)} counted now, of these ${number(opening)} written as opening`;
export const openingNot = "It did not happen";
export const openingOn = (blade: string): string => `on this edge of ${blade}`;
export const noMachine = "Opening counts need a machine and a blade.";
export const bladeToo = "The blade was changed";
export const bladeTooSub = "and nobody said so then";
export const atPiece = "it was at piece";
export const bladeIn = "blade that went in";
export const stays = (before: number, after: number): string =>
  `${number(before)} stay with the old edge, ${number(after)} move to the new one.`;
export const writeChange = "Change it there";
