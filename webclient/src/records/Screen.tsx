/** What was done when? Sessions, batches and pieces, newest first, by lot, edge and what was seen. */

import { useState } from "preact/hooks";
import { go, route } from "../route";
import { Choice, Page, Saved, Scribed } from "../workshop";
import { chosenWords, LookFor } from "./LookFor";
import { EVERYTHING, type Filter, type Lines, matches } from "./lists";
import { BatchRow, PieceRow, WorkRow } from "./rows";
import { wide } from "./state";
import { BatchTable, PieceTable, WorkTable } from "./tables_shown";
import * as words from "./words";
import "./screen.css";

export type View = "sessions" | "batches" | "pieces";
const STEP = 100;

export interface RecordsProps {
  lines: Lines;
  faultWord: (code: string) => string;
  refused: number;
  hidden: number;
}

export function Screen(p: RecordsProps) {
  const { query, rest } = route.value;
  const view: View = query["show"] === "batches" || query["show"] === "pieces" ? query["show"] : "sessions";
  const filter: Filter = {
    lot: query["lot"] ?? null,
    edge: query["edge"] ?? null,
    fault: query["seen"] ?? null,
  };
  const [shown, setShown] = useState(STEP);
  const show = (to: View, by: Filter): void => {
    setShown(STEP);
    const said = { show: to, lot: by.lot, edge: by.edge, seen: by.fault };
    go(
      "records",
      Object.fromEntries(
        Object.entries(said).filter((entry): entry is [string, string] => entry[1] !== null),
      ),
    );
  };
  const all = view === "sessions" ? p.lines.work : view === "batches" ? p.lines.batches : p.lines.pieces;
  if (rest[0] === "look")
    return <LookFor lines={all} filter={filter} faultWord={p.faultWord} onChosen={(by) => show(view, by)} />;

  const empty = p.lines.work.length + p.lines.batches.length + p.lines.pieces.length === 0;
  const found = all.filter((line) => matches(line, filter));
  const first = p.lines.work.find((line) => matches(line, filter));
  const next = first
    ? {
        label: words.open(words.batch(first.labels)),
        sub: words.openSub(total(first.counts), first.counts.good),
        onTake: () => go("records", first.kind, first.id),
      }
    : { label: words.today, onTake: () => go("today") };
  const chosen = chosenWords(filter, p.faultWord);
  return (
    <Page title={words.records} sub={<Saved />} next={next}>
      <div class="records-top wide">
        <Choice
          legend={words.show}
          quietLegend
          tiles
          value={view}
          onChange={(to) => show(to, filter)}
          options={[
            { value: "sessions", label: words.sessions },
            { value: "batches", label: words.batches },
            { value: "pieces", label: words.piecesHead },
          ]}
        />
        {empty ? (
          <p class="records-none">
            <strong>{words.nothing}</strong>
            {words.nothingSub}
          </p>
        ) : (
          <Scribed
            wide
            label={words.look(chosen)}
            sub={chosen.length ? words.found(found.length) : words.lookSub}
            onTake={() => go("records", "look", query)}
          />
        )}
        <Scribed
          wide
          label={empty ? words.bringIn : words.takeAlong}
          sub={empty ? words.bringInSub : words.takeAlongSub}
          onTake={() => go("records", "copies")}
        />
      </div>
      {p.refused + p.hidden > 0 && (
        <Scribed
          wide
          label={words.setAside}
          sub={words.setAsideLine(p.refused, p.hidden)}
          onTake={() => go("records", "aside")}
        />
      )}
      {!empty && found.length === 0 && <p class="records-none">{words.noneFound}</p>}
      {found.length > 0 && <Found {...p} view={view} filter={filter} shown={shown} />}
      {found.length > shown && (
        <Scribed
          wide
          label={words.more(Math.min(STEP, found.length - shown))}
          sub={words.moreSub(found.length - shown)}
          onTake={() => setShown(shown + STEP)}
        />
      )}
      {chosen.length > 0 && <Scribed wide label={words.look([])} onTake={() => show(view, EVERYTHING)} />}
    </Page>
  );
}

const total = (counts: { good: number; second: number; lost: number }): number =>
  counts.good + counts.second + counts.lost;

/** The newest of what was found; a few hundred rows at a time, so that years of pieces stay quick. */
function Found(p: RecordsProps & { view: View; filter: Filter; shown: number }) {
  const { lines, filter, shown, faultWord } = p;
  const among = <T extends Parameters<typeof matches>[0]>(all: readonly T[]): T[] =>
    all.filter((line) => matches(line, filter)).slice(0, shown);
  if (p.view === "batches") {
    const found = among(lines.batches);
    return wide.value ? (
      <BatchTable lines={found} />
    ) : (
      <ul class="records-list">
        {found.map((line) => (
          <BatchRow key={line.id} line={line} />
        ))}
      </ul>
    );
  }
  if (p.view === "pieces") {
    const found = among(lines.pieces);
    return wide.value ? (
      <PieceTable lines={found} faultWord={faultWord} />
    ) : (
      <ul class="records-list">
        {found.map((line) => (
          <PieceRow key={line.id} line={line} faultWord={faultWord} />
        ))}
      </ul>
    );
  }
  const found = among(lines.work);
  return wide.value ? (
    <WorkTable lines={found} faultWord={faultWord} />
  ) : (
    <ul class="records-list">
      {found.map((line) => (
        <WorkRow key={line.id} line={line} faultWord={faultWord} />
      ))}
    </ul>
  );
}
