/** What speaks for a forecast: the answer first, then the records as a drawing, as figures, and how it was worked out. */
import type { ComponentChildren } from "preact";
import { useLayoutEffect, useRef, useState } from "preact/hooks";
import { Page } from "../Page";
import { Scribed } from "../Scribed";
import { type Column, Table } from "../Table";
import * as words from "./words";

export interface EvidenceTable {
  columns: readonly Column[];
  rows: readonly (readonly ComponentChildren[])[];
}

export function Evidence(p: {
  title: string;
  /** the answer in a sentence, with its range */
  answer: string;
  /** what it rests on: "from 31 marks of lot C" */
  from: string;
  chart?: ComponentChildren;
  table?: EvidenceTable | undefined;
  how: readonly string[];
  children?: ComponentChildren;
}) {
  const { table } = p;
  const rows = table?.rows.map((cells, i) => ({ key: String(i), cells }));
  return (
    <Page title={p.title} sub={p.from} next={{ label: words.back, onTake: () => history.back() }}>
      <p>
        <strong>{p.answer}</strong>
      </p>
      {p.chart}
      {p.children}
      {table && rows && rows.length > 0 && (
        <Fold label={words.asTable}>
          <Figures title={p.title} columns={table.columns} rows={rows} />
        </Fold>
      )}
      <Fold label={words.howComputed}>
        {p.how.map((line) => (
          <p key={line} style="margin-top:0.6em">
            {line}
          </p>
        ))}
      </Fold>
    </Page>
  );
}

/** Where it is wider than the phone, that is said: nothing else shows that it goes on. */
function Figures(p: {
  title: string;
  columns: readonly Column[];
  rows: Parameters<typeof Table>[0]["rows"];
}) {
  const at = useRef<HTMLDivElement>(null);
  const [isCut, setCut] = useState(false);
  useLayoutEffect(() => {
    const room = at.current?.querySelector(".table-room");
    setCut(room !== null && room !== undefined && room.scrollWidth > room.clientWidth + 1);
  }, [p.rows.length]);
  return (
    <div ref={at}>
      {isCut && <p class="quiet">{words.goesOn}</p>}
      <Table quietCaption caption={p.title} columns={p.columns} rows={p.rows} />
    </div>
  );
}

function Fold(p: { label: string; children: ComponentChildren }) {
  const [isOpen, open] = useState(false);
  return (
    <section>
      <Scribed wide label={p.label} chosen={isOpen} onTake={() => open(!isOpen)} />
      {isOpen && p.children}
    </section>
  );
}

export function NoEvidence() {
  return (
    <Page title={words.nothing} next={{ label: words.back, onTake: () => history.back() }}>
      <p>{words.nothingSub}</p>
    </Page>
  );
}
