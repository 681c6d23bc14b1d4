/** Where does the session stand that is open now? For Today and the Chest's drawers. Joins profiling and batches. */
import { computed } from "@preact/signals";
import { readBatch } from "../batches/model";
import { minute } from "../clock";
import { prefixed } from "../logbook/read";
import { logbook } from "../logbook/state";
import { awake, doneOf, pieceOn, piecesOf } from "../profiling/rules";
import { pieces, sessions } from "../profiling/state";

export interface OpenSession {
  id: string;
  machine: string | null;
  done: number;
  piece: number;
  checks: number;
  batch: string | null;
  /** ms; null: it goes on */
  paused: number | null;
}

/** The session whose last act is the newest, on any machine. */
export const openSession = computed((): OpenSession | null => {
  const session = awake(sessions.value, pieces.value, minute.value)[0];
  if (session === undefined) return null;
  const own = piecesOf(session, sessions.value, pieces.value);
  const done = doneOf(own);
  const batch = session.batches.at(-1);
  const row = batch === undefined ? undefined : logbook.row("batch", batch);
  return {
    id: session.id,
    machine: session.machine,
    done: done.good + done.second + done.lost,
    piece: pieceOn(session, own),
    checks: prefixed(logbook.row("session", session.id), "check/").filter(([, field]) => field.value !== null)
      .length,
    batch: row ? readBatch(row).label : null,
    paused: session.pausedAt === null ? null : Date.parse(session.pausedAt),
  };
});
