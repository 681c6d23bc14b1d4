/** What does a change of blade undo, when is it unwelcome, and did two phones each fit one? */

import type { BladeMove } from "./model";

/** Moves by time; of one moment by id. */
export const inOrder = (a: BladeMove, b: BladeMove): number =>
  a.at < b.at ? -1 : a.at > b.at ? 1 : a.id < b.id ? -1 : a.id > b.id ? 1 : 0;

/** What a change of blade undoes: no two blades are quite the same length. Common practice, no source. */
export const UNDONE_BY_A_CHANGE = ["projection", "middle_stop", "shoulder_stop"] as const;

const HOUR_MS = 3_600_000;
/** Two phones that did not see each other are asked about for two days; what is older has been settled by working on. */
const ASKED_FOR_MS = 48 * HOUR_MS;

/** Two blades fitted on one machine by phones that did not see each other's move: the later one stands. */
export interface TwoBlades {
  machine: string;
  earlier: BladeMove;
  later: BladeMove;
}

/**
 * The questions "two blades in one machine?". Asked where the later move did not know of the earlier one: it names
 * another blade as the one it took out or, where it names none, came within an hour (a change takes an hour). Never
 * asked again after a person confirmed the later move, or fitted a blade since.
 */
export function twoBladesIn(moves: readonly BladeMove[]): TwoBlades[] {
  const fitted = new Map<string, BladeMove[]>();
  for (const move of [...moves].sort(inOrder)) {
    if (move.what !== "fitted" || move.machine === null) continue;
    const list = fitted.get(move.machine);
    if (list === undefined) fitted.set(move.machine, [move]);
    else list.push(move);
  }
  const found: TwoBlades[] = [];
  for (const [machine, list] of fitted) {
    const earlier = list.at(-2);
    const later = list.at(-1);
    if (earlier === undefined || later === undefined || later.confirmed || earlier.blade === later.blade)
      continue;
    const apart = Date.parse(later.at) - Date.parse(earlier.at);
    const unseen =
      later.took_out === null
        ? apart <= HOUR_MS && earlier.took_out === null
        : later.took_out !== earlier.blade;
    if (unseen && apart <= ASKED_FOR_MS) found.push({ machine, earlier, later });
  }
  return found;
}

/**
 * Of a change written in later, from before one that stands: that later fitting says that it took out what is now known
 * to have been out by then. Its id, so that it can be put right with the same stroke; null: nothing to put right.
 */
export function laterFitting(
  moves: readonly BladeMove[],
  machine: string,
  at: string,
  took_out: string | null,
): string | null {
  const later = [...moves]
    .sort(inOrder)
    .find((move) => move.what === "fitted" && move.machine === machine && move.at > at);
  return later !== undefined && later.took_out === took_out ? later.id : null;
}

/** What is under way or planned, as a change of blade needs to know it. `planned_day` is a calendar day. */
export interface Under {
  sessions: readonly { id: string; machine: string | null; began: string | null; ended: string | null }[];
  batches: readonly {
    label: string;
    machine: string | null;
    planned_day: string | null;
    /** null: it never said how many */
    pieces: number | null;
    closed: boolean;
  }[];
}

export type ChangeWarning =
  | { what: "session_under_way"; session: string }
  | { what: "planned"; label: string; pieces: number | null; day: string; when: "today" | "tomorrow" };

/** Warn where a session is under way on this machine, or a batch is planned for `today` or `tomorrow`: a change takes an hour. */
export function changeWarnings(
  machine: string,
  under: Under,
  today: string,
  tomorrow: string,
): ChangeWarning[] {
  const here = (other: string | null): boolean => other === null || other === machine;
  return [
    ...under.sessions
      .filter((session) => here(session.machine) && session.began !== null && session.ended === null)
      .map((session): ChangeWarning => ({ what: "session_under_way", session: session.id })),
    ...under.batches
      .filter(
        (batch) =>
          here(batch.machine) &&
          !batch.closed &&
          (batch.planned_day === today || batch.planned_day === tomorrow),
      )
      .map(
        (batch): ChangeWarning => ({
          what: "planned",
          label: batch.label,
          pieces: batch.pieces,
          day: batch.planned_day as string,
          when: batch.planned_day === today ? "today" : "tomorrow",
        }),
      ),
  ];
}
