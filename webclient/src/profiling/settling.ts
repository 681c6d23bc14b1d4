/** What a late word left open, settled: what was seen on a piece, whose pieces these are. */
import type { Edit } from "../logbook/model";
import { logbook } from "../logbook/state";
import type { Piece, Session } from "./model";
import { rootOf } from "./rules";
import { piecesIn, sessions } from "./state";

/** Something seen on a piece that came off before. */
export function seeLater(piece: Piece, codes: string[]): void {
  logbook.write([{ kind: "piece", record: piece.id, set: { seen: codes } }]);
}

/** The machine was named after the session had begun, or was another: its pieces move with it. */
export function adopt(session: Session, machine: string): void {
  const all = sessions.peek().filter((one) => rootOf(one, sessions.peek()) === session);
  const moved = (kind: string, { id }: { id: string }): Edit => ({ kind, record: id, set: { machine } });
  logbook.write([
    ...all.map((one) => moved("session", one)),
    ...piecesIn(session)
      .filter((piece) => piece.machine !== machine)
      .map((piece) => moved("piece", piece)),
  ]);
}

/** The batch was named after the session had begun: these pieces, or those of no batch, are of this one. */
export function adoptBatch(
  session: Session,
  batch: string,
  own = piecesIn(session).filter((piece) => piece.batch === null),
): void {
  logbook.write([
    {
      kind: "session",
      record: session.id,
      set: { batches: [...session.batches.filter((one) => one !== batch), batch] },
    },
    ...own.map((piece): Edit => ({ kind: "piece", record: piece.id, set: { batch } })),
  ]);
}
