/** What a late word left open, settled: what was seen on a piece, whose pieces these are. */
import type { Edit } from "../logbook/model";
import { logbook } from "../logbook/state";
import type { Piece, Session } from "./model";
import { piecesIn } from "./state";

/** Something seen on a piece that came off before. */
export function seeLater(piece: Piece, codes: string[]): void {
  logbook.write([{ kind: "piece", record: piece.id, set: { seen: codes } }]);
}

/** The machine was named after the session had begun: its pieces move with it. */
export function adopt(session: Session, machine: string): void {
  const own = piecesIn(session).filter((piece) => piece.machine === null);
  logbook.write([
    { kind: "session", record: session.id, set: { machine } },
    ...own.map((piece): Edit => ({ kind: "piece", record: piece.id, set: { machine } })),
  ]);
}

/** The batch was named after the session had begun: its pieces of no batch are of this one. */
export function adoptBatch(session: Session, batch: string): void {
  const own = piecesIn(session).filter((piece) => piece.batch === null);
  logbook.write([
    {
      kind: "session",
      record: session.id,
      set: { batches: [...session.batches.filter((one) => one !== batch), batch] },
    },
    ...own.map((piece): Edit => ({ kind: "piece", record: piece.id, set: { batch } })),
  ]);
}
