/** One session or batch opened: its pieces as they lie, what was noted, and what was written here before. */

import type { ComponentChildren } from "preact";
import { useState } from "preact/hooks";
import { PiecesHeap } from "../drawings/PiecesHeap";
import { neverWas } from "../logbook/never_was";
import { go } from "../route";
import { Page, Scribed } from "../workshop";
import type { BatchLine, WorkLine } from "./lists";
import { STAGES } from "./model";
import { PastOf } from "./PastOf";
import { WorkRow } from "./rows";
import { PieceTable } from "./tables_shown";
import * as words from "./words";

export interface OpenedProps {
  kind: "session" | "tally" | "batch";
  id: string;
  /** what people wrote about it, with the day */
  notes: readonly { id: string; text: string; at: number | null }[];
  faultWord: (code: string) => string;
  deviceName: (device: string) => string | null;
}

export const toRecords = { label: words.back, sub: words.backSub, onTake: (): void => go("records") };

export function WorkOpened(p: OpenedProps & { line: WorkLine }) {
  const { line } = p;
  const [all, setAll] = useState(false);
  const odd = line.pieces.filter(
    (piece) => piece.outcome !== "good" || piece.faults.length > 0 || piece.note || piece.alsoSaid.length > 0,
  );
  const when =
    line.day !== null
      ? words.dayAt(line.day)
      : line.began === null
        ? ""
        : `${words.dayAt(line.began)}, ${line.kind === "tally" ? words.totalsOnly : words.from(line.began, line.ended)}`;
  const where = [line.machine, ...line.edges.map(words.edge), ...line.lots.map(words.lot)]
    .filter(Boolean)
    .join(", ");
  return (
    <Page
      title={`${words.batch(line.labels)}: ${words.counts(line.counts)}`}
      sub={`${when}. ${where}`}
      next={toRecords}
    >
      <div class="records-session wide">
        <div>
          {line.pieces.length > 0 && (
            <PiecesHeap
              pieces={line.pieces.map(({ outcome }) => outcome)}
              title={words.heap(words.counts(line.counts))}
            />
          )}
          {line.minutes !== null && (
            <p class="records-figure">
              <strong>{words.min(line.minutes)}</strong> {words.columns.aPiece}
            </p>
          )}
        </div>
        <div class="records-pieces">
          {line.pieces.length > 0 && (
            <>
              {(all || odd.length > 0) && (
                <PieceTable inside lines={all ? line.pieces : odd} faultWord={p.faultWord} />
              )}
              {!all && odd.length < line.pieces.length && (
                <Scribed
                  wide
                  label={words.eachPiece}
                  sub={words.lines(line.pieces.length)}
                  onTake={() => setAll(true)}
                />
              )}
            </>
          )}
        </div>
      </div>
      {line.pieces.length === 0 && line.faults.length > 0 && <p>{line.faults.map(p.faultWord).join(", ")}</p>}
      <Scribed
        wide
        label={words.never}
        sub={words.hiddenSub}
        onTake={() => {
          neverWas(p.kind, p.id);
          go("records");
        }}
      />
      <Notes own={line.note} notes={p.notes} />
      <PastOf kind={p.kind} id={p.id} deviceName={p.deviceName} />
    </Page>
  );
}

export function BatchOpened(p: OpenedProps & { line: BatchLine; work: readonly WorkLine[] }) {
  const { line } = p;
  return (
    <Page
      title={`${line.label ?? "?"}: ${words.counts(line.counts)}`}
      sub={[
        line.planned && words.dayAt(line.planned),
        ...line.lots.map(words.lot),
        ...line.edges.map(words.edge),
      ]
        .filter(Boolean)
        .join(", ")}
      next={toRecords}
    >
      <Part title={words.stands}>
        <ol class="records-stages">
          {STAGES.map(
            (stage, i) =>
              line.came[i] != null && (
                <li key={stage}>
                  <strong>{line.came[i]}</strong> {words.stages[stage]}
                </li>
              ),
          )}
        </ol>
      </Part>
      {p.work.length > 0 && (
        <Part title={words.atTheMachine}>
          <ul class="records-list">
            {p.work.map((work) => (
              <WorkRow key={work.id} line={work} faultWord={p.faultWord} />
            ))}
          </ul>
        </Part>
      )}
      <Notes own={line.note} notes={p.notes} />
      <PastOf kind={p.kind} id={p.id} deviceName={p.deviceName} />
    </Page>
  );
}

export function Part(p: { title: string; children: ComponentChildren }) {
  return (
    <section class="records-part">
      <h2>{p.title}</h2>
      {p.children}
    </section>
  );
}

function Notes(p: { own: string | null; notes: OpenedProps["notes"] }) {
  if (p.own === null && p.notes.length === 0) return null;
  return (
    <Part title={words.notes}>
      {p.own !== null && <p class="records-note">{p.own}</p>}
      {p.notes.map((note) => (
        <p key={note.id} class="records-note">
          {note.text} {note.at !== null && <small>{words.dayAt(note.at)}</small>}
        </p>
      ))}
    </Part>
  );
}
