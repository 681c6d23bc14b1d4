/** How long does a piece take, and when will the batch be done? */
import type { Piece } from "./model";

/** Fewer fully counted pieces than this say nothing about the pace. */
export const PACE_NEEDS = 3;

export const median = (values: readonly number[]): number | null => {
  const sorted = [...values].sort((a, b) => a - b);
  const half = Math.floor(sorted.length / 2);
  const upper = sorted[half];
  if (upper === undefined) return null;
  return sorted.length % 2 ? upper : ((sorted[half - 1] ?? upper) + upper) / 2;
};

/** Minutes from coming on to its outcome; null where it was not fully counted. */
export function minutesOf(piece: Piece): number | null {
  if (!piece.full || !piece.began || !piece.at || piece.standing.length === 0) return null;
  const minutes = (Date.parse(piece.at) - Date.parse(piece.began)) / 60_000;
  return minutes > 0 ? minutes : null;
}

/** The median of the fully counted, minutes; null while they are too few. */
export function minutesAPiece(pieces: readonly Piece[]): number | null {
  const minutes = pieces.map(minutesOf).filter((value): value is number => value !== null);
  return minutes.length < PACE_NEEDS ? null : median(minutes);
}

/** The moment the batch is done at the present pace, ms: the piece on has been on since `since`. */
export function doneBy(left: number, minutes: number | null, since: number, now: number): number | null {
  if (minutes === null || left <= 0) return null;
  const pieceDone = Math.max(now, since + minutes * 60_000);
  return pieceDone + (left - 1) * minutes * 60_000;
}
