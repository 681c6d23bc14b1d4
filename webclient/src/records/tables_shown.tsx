/** Records where there is room: a table of sessions, of batches, of pieces. */

import { number } from "../language/format";
import { href } from "../route";
import { Table } from "../workshop";
import type { BatchLine, PieceLine, WorkLine } from "./lists";
import { STAGES } from "./model";
import * as words from "./words";

type Say = (code: string) => string;
const c = words.columns;
const figure = (head: string) => ({ head, figure: true });

const dayAt = (at: number | null): string => (at === null ? "" : words.dayAt(at));

export function WorkTable(p: { lines: readonly WorkLine[]; faultWord: Say }) {
  const columns = [
    { head: c.batch },
    { head: c.day },
    { head: c.time },
    { head: c.lot },
    { head: c.edge },
    figure(c.good),
    figure(c.second),
    figure(c.lost),
    figure(c.aPiece),
    { head: c.seen },
  ];
  return (
    <Table
      caption={words.sessions}
      quietCaption
      columns={columns}
      rows={p.lines.map((line) => ({
        key: line.id,
        cells: [
          <a href={href("records", line.kind, line.id)}>{words.batch(line.labels)}</a>,
          line.day ? words.dayAt(line.day) : dayAt(line.began),
          line.kind === "tally"
            ? words.totalsOnly
            : line.began === null
              ? ""
              : words.from(line.began, line.ended),
          line.lots.join(", "),
          line.edges.map(words.edge).join(", "),
          number(line.counts.good),
          number(line.counts.second),
          number(line.counts.lost),
          line.minutes === null ? "" : words.min(line.minutes),
          line.faults.map(p.faultWord).join(", "),
        ],
      }))}
    />
  );
}

export function BatchTable(p: { lines: readonly BatchLine[] }) {
  const columns = [
    { head: c.batch },
    { head: c.planned },
    { head: c.lot },
    { head: c.edge },
    figure(c.pieces),
    ...STAGES.map((stage) => figure(words.stages[stage] ?? stage)),
    figure(c.lost),
    { head: c.note },
  ];
  return (
    <Table
      caption={words.batches}
      quietCaption
      columns={columns}
      rows={p.lines.map((line) => ({
        key: line.id,
        cells: [
          <a href={href("records", "batch", line.id)}>{line.label ?? "?"}</a>,
          line.planned === null ? "" : words.dayAt(line.planned),
          line.lots.join(", "),
          line.edges.map(words.edge).join(", "),
          line.pieces === null ? "" : number(line.pieces),
          ...line.came.map((n) => (n === null ? "" : number(n))),
          number(line.lost),
          line.note ?? "",
        ],
      }))}
    />
  );
}

/** `inside`: the session's own table, in which the day goes without saying. */
export function PieceTable(p: { lines: readonly PieceLine[]; faultWord: Say; inside?: boolean | undefined }) {
  const edges = !p.inside || new Set(p.lines.flatMap((line) => line.edges)).size > 1;
  const columns = [
    { head: c.piece },
    ...(p.inside ? [] : [{ head: c.day }]),
    { head: c.outcome },
    figure(c.minutes),
    ...(edges ? [{ head: c.edge }] : []),
    { head: c.seen },
  ];
  return (
    <Table
      caption={p.inside ? words.eachPiece : words.piecesHead}
      quietCaption
      columns={columns}
      rows={p.lines.map((line) => ({
        key: line.id,
        cells: [
          p.inside || line.session === null ? (
            words.pieceOf(line.number, line.label)
          ) : (
            <a href={href("records", "session", line.session)}>{words.pieceOf(line.number, line.label)}</a>
          ),
          ...(p.inside ? [] : [dayAt(line.at)]),
          line.outcome ? words.outcomeName[line.outcome] : words.none,
          line.minutes === null ? "" : words.min(line.minutes),
          ...(edges ? [line.edges.map(words.edge).join(", ")] : []),
          [
            ...line.faults.map(p.faultWord),
            line.note,
            line.alsoSaid.length ? words.alsoSaid(line.alsoSaid) : null,
          ]
            .filter(Boolean)
            .join(", "),
        ],
      }))}
    />
  );
}
