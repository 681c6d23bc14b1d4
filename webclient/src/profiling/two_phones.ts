/** What two phones left open, settled: which outcome holds, one session or two. */
import type { Edit, Value } from "../logbook/model";
import { pieceId } from "../logbook/piece_id";
import { logbook } from "../logbook/state";
import type { Piece, Session } from "./model";
import { nextFree } from "./rules";

/** Two phones said two things: this one holds. */
export function keepOutcome(piece: Piece, change: string): void {
  const gone = piece.standing.filter((one) => one.change !== change);
  logbook.write([
    {
      kind: "piece",
      record: piece.id,
      set: Object.fromEntries(gone.map((one): [string, Value] => [`outcome/${one.change}`, null])),
    },
  ]);
}

/** Two phones said two things, and both were right: the earlier stays, the other becomes a piece of its own. */
export function theseWereTwo(piece: Piece, own: readonly Piece[]): void {
  const [stays, ...others] = [...piece.standing].reverse();
  if (!stays) return;
  const edits: Edit[] = [];
  const gone: Record<string, Value> = { full: false };
  const free = nextFree(piece.session, own);
  others.forEach((other, k) => {
    const number = free + k;
    gone[`outcome/${other.change}`] = null;
    edits.push({
      kind: "piece",
      record: pieceId(piece.session, number),
      set: (change) => ({
        session: piece.session,
        number,
        batch: piece.batch,
        machine: piece.machine,
        began: null,
        at: other.when,
        [`outcome/${change}`]: other.outcome,
        full: false,
        parted_from: piece.id,
      }),
    });
  });
  logbook.write([{ kind: "piece", record: piece.id, set: gone }, ...edits]);
}

/** "One session?" yes: the one begun later is part of the earlier. */
export function joinSessions(earlier: Session, later: Session): void {
  logbook.write([{ kind: "session", record: later.id, set: { joined_to: earlier.id } }]);
}

export function keepApart(one: Session, other: Session): void {
  logbook.write([{ kind: "session", record: other.id, set: { apart: [...other.apart, one.id] } }]);
}
