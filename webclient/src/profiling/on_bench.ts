/** What does the bench show at this moment? Everything that its screens say, worked out once. */
import type { Piece, Session } from "./model";
import * as rules from "./rules";
import { type BenchFacts, cameOn, piecesIn, sessionAt, turnsWanted } from "./state";
import * as words from "./words";

export interface OnBench {
  facts: BenchFacts;
  session: Session | null;
  own: Piece[];
  /** The number within the session, and the place within the batch, of the piece on the easel. */
  number: number;
  place: number;
  all: number | null;
  done: number;
  left: number | null;
  counts: rules.Done;
  title: string;
  /** What stands beside the count; `pace` is the first to go where there is little room. */
  readonly lines: { what: "water" | "pace" | "end" | "range" | "edge"; words: string }[];
  canTakeBack: boolean;
  turns: number;
  countsTurns: boolean;
  /** The strip before it has just gone: the next slides on. */
  moves: boolean;
  placeOf: (piece: Piece) => number;
}

/** `now` in ms; `inWater_min` minutes that the next piece has been in the water; `placeOf` over all sessions. */
export function onBench(
  facts: BenchFacts,
  now: number,
  inWater_min: number | null,
  placeOf: OnBench["placeOf"],
): OnBench {
  const session = sessionAt(facts.machine?.id ?? null);
  const own = piecesIn(session);
  const number = rules.pieceOn(session, own);
  const before = facts.batch?.before ?? 0;
  const batch = facts.batch?.id ?? null;
  const mine = own.filter((piece) => piece.batch === batch);
  const counts = rules.doneOf(mine);
  const all = facts.batch?.pieces ?? null;
  const done = before + counts.all;
  const left = all === null ? null : Math.max(0, all - done);
  const on = own.find((piece) => piece.session === session?.id && piece.number === number);
  const title = [
    facts.lot ? words.lot(facts.lot) : (facts.batch?.label ?? words.noBatch),
    facts.blade ? words.blade(facts.blade) : null,
    facts.machine?.name,
  ];
  return {
    facts,
    session,
    own,
    number,
    all,
    done,
    left,
    counts,
    turns: rules.turnsOf(on),
    // asked for only where no slip says it better
    get lines() {
      const pace = rules.minutesAPiece(own);
      const since = Date.parse(on?.began ?? cameOn(own) ?? new Date(now).toISOString());
      const end = rules.doneBy(left ?? 0, pace, since, now);
      const lines: OnBench["lines"] = [];
      if (inWater_min !== null) lines.push({ what: "water", words: words.inWater(inWater_min) });
      if (pace !== null) lines.push({ what: "pace", words: words.aPiece(pace) });
      if (end !== null) lines.push({ what: "end", words: words.doneBy(end) });
      return lines;
    },
    place: rules.placeInBatch(before, mine, on ?? { session: session?.id ?? "", number, at: null }),
    title: title.filter(Boolean).join(", "),
    canTakeBack: rules.lastAct(own) !== null,
    countsTurns: session?.countsTurns ?? turnsWanted.value ?? facts.machine?.countsTurns ?? false,
    moves: counts.all > 0,
    placeOf,
  };
}
