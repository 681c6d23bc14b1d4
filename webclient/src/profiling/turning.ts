/** Which half is under the blade, and how far is the bark off? */
import { isDone, type Piece } from "./model";
import { median } from "./pace";

export type TurnHabit = "passes" | "halves";

/** Two phones that saw one turn: moments of different devices closer than this are the same turn. */
export const SAME_TURN_MS = 3000;

/** Turns of the habit "passes" by common practice, no source: until the maker's own are known. */
export const USUAL_TURNS = 9;

/** How many turns a piece has had, over all phones. */
export function turnsOf(piece: Piece | undefined): number {
  if (!piece) return 0;
  const all = Object.entries(piece.turns)
    .flatMap(([device, moments]) => moments.map((moment) => ({ device, ms: Date.parse(moment) })))
    .sort((a, b) => a.ms - b.ms);
  let turns = 0;
  let last: { device: string; ms: number } | null = null;
  for (const one of all) {
    if (last && last.device !== one.device && one.ms - last.ms < SAME_TURN_MS) continue;
    turns += 1;
    last = one;
  }
  return turns;
}

/** The usual number, as its middle half; null under five counted pieces. */
export function usualTurns(pieces: readonly Piece[]): { from: number; to: number } | null {
  const counts = pieces
    .filter((piece) => piece.full && isDone(piece) && turnsOf(piece) > 0)
    .map(turnsOf)
    .sort((a, b) => a - b);
  if (counts.length < 5) return null;
  const half = Math.floor(counts.length / 2);
  const from = median(counts.slice(0, half));
  const to = median(counts.slice(counts.length - half));
  return from === null || to === null ? null : { from: Math.round(from), to: Math.round(to) };
}

export interface Cutting {
  /** The half under the blade. */
  half: "first" | "second";
  /** How much of each half is pared, 0 to 1. */
  first: number;
  second: number;
  /** Hard bark, light hand: true until the bark is off the half under the blade. */
  onBark: boolean;
}

/** How the strip lies after so many turns, by the maker's habit. `usual` is turns for a whole piece. */
export function cutting(turns: number, habit: TurnHabit, usual: number = USUAL_TURNS): Cutting {
  const half = turns % 2 === 0 ? "first" : "second";
  if (habit === "halves") {
    const first = turns === 0 ? 0.45 : 1;
    const second = turns === 0 ? 0 : turns === 1 ? 0.45 : 1;
    return { half, first, second, onBark: turns < 2 };
  }
  const share = (cuts: number): number => Math.min(1, (2 * cuts) / (usual + 1));
  const first = share(Math.floor(turns / 2) + (half === "first" ? 0.5 : 1));
  const second = share(Math.floor((turns + 1) / 2) - (half === "second" ? 0.5 : 0));
  return { half, first, second, onBark: (half === "first" ? first : second) < 0.45 };
}
