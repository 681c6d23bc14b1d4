/** One line of Records on a phone: the bag's label, how the pieces lie, and in words how they came out. */

import type { ComponentChildren } from "preact";
import { OutcomeMark, OutcomeShape } from "../drawings/OutcomeShape";
import { go } from "../route";
import { press } from "../wet_hands/press";
import { BagLabel } from "../workshop";
import type { BatchLine, PieceLine, WorkLine } from "./lists";
import { STAGES } from "./model";
import * as words from "./words";

type Say = (code: string) => string;

function Line(p: { onTake: () => void; label: ComponentChildren; children: ComponentChildren }) {
  return (
    <li>
      <button type="button" class="records-line" {...press(p.onTake)}>
        {p.label}
        <span class="records-words">{p.children}</span>
      </button>
    </li>
  );
}

const about = (words_: readonly (string | null | undefined)[]): string =>
  words_.filter((word): word is string => !!word).join(", ");

const dayOf = (line: WorkLine): string | null =>
  line.day !== null ? words.dayAt(line.day) : line.began !== null ? words.dayAt(line.began) : null;

export function WorkRow(p: { line: WorkLine; faultWord: Say }) {
  const { line } = p;
  return (
    <Line
      onTake={() => go("records", line.kind, line.id)}
      label={<BagLabel label={words.batch(line.labels)} day={dayOf(line)} />}
    >
      <strong>{words.counts(line.counts)}</strong>
      {line.pieces.length > 0 && <Lying line={line} />}
      <small>
        {about([
          line.edges.map(words.edge).join(", "),
          line.kind === "tally"
            ? words.totalsOnly
            : line.minutes === null
              ? null
              : words.aPiece(line.minutes),
        ])}
      </small>
      {line.faults.length > 0 && <small>{line.faults.map(p.faultWord).join(", ")}</small>}
    </Line>
  );
}

const ABREAST = 10;

/** Each piece as an ink mark, in the order they came off. */
function Lying(p: { line: WorkLine }) {
  const rows = Math.ceil(p.line.pieces.length / ABREAST);
  return (
    <svg class="records-lying" viewBox={`-1 -1 ${ABREAST * 24} ${rows * 9 + 1}`} aria-hidden="true">
      {p.line.pieces.map(
        (piece, i) =>
          piece.outcome && (
            <OutcomeMark
              key={piece.id}
              outcome={piece.outcome}
              x={(i % ABREAST) * 24}
              y={Math.floor(i / ABREAST) * 9}
              w={20}
            />
          ),
      )}
    </svg>
  );
}

export function BatchRow(p: { line: BatchLine }) {
  const { line } = p;
  const came = STAGES.flatMap((stage, i) =>
    line.came[i] === null || line.came[i] === undefined ? [] : [`${line.came[i]} ${words.stages[stage]}`],
  );
  return (
    <Line
      onTake={() => go("records", "batch", line.id)}
      label={<BagLabel label={line.label ?? "?"} day={line.planned && words.dayAt(line.planned)} />}
    >
      <strong>
        {line.counts.good + line.counts.second + line.counts.lost > 0
          ? words.counts(line.counts)
          : words.planned(line.pieces)}
      </strong>
      <small>{came.join(", ")}</small>
      {line.note && <small>{line.note}</small>}
    </Line>
  );
}

export function PieceRow(p: { line: PieceLine; faultWord: Say }) {
  const { line } = p;
  return (
    <Line
      onTake={() => line.session && go("records", "session", line.session)}
      label={
        <BagLabel
          label={words.pieceOf(line.number, line.label)}
          day={line.at === null ? null : words.dayAt(line.at)}
        />
      }
    >
      <strong class="records-ended">
        {line.outcome && <OutcomeShape outcome={line.outcome} width={44} />}{" "}
        {line.outcome ? words.outcomeName[line.outcome] : words.none}
      </strong>
      {line.alsoSaid.length > 0 && <small class="alarm">{words.alsoSaid(line.alsoSaid)}</small>}
      <small>
        {about([...line.edges.map(words.edge), line.minutes === null ? null : words.took(line.minutes)])}
      </small>
      {line.faults.length > 0 && <small>{line.faults.map(p.faultWord).join(", ")}</small>}
    </Line>
  );
}
