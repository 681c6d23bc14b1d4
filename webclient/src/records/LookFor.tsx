/** Which lot, which edge, which fault is looked for? Only what occurs can be chosen. */

import { useState } from "preact/hooks";
import { drawnFaults, FaultDrawing } from "../drawings/Fault";
import { Choice, Page } from "../workshop";
import { type Filter, matches, occurring } from "./lists";
import * as words from "./words";

type Lines = Parameters<typeof occurring>[0];

export const chosenWords = (filter: Filter, faultWord: (code: string) => string): string[] =>
  [
    filter.lot && words.lot(filter.lot),
    filter.edge && words.edge(filter.edge),
    filter.fault && faultWord(filter.fault),
  ].filter((word): word is string => !!word);

const ALL = "";

export function LookFor(p: {
  lines: Lines;
  filter: Filter;
  faultWord: (code: string) => string;
  onChosen: (filter: Filter) => void;
}) {
  const [by, setBy] = useState(p.filter);
  const all = occurring(p.lines);
  const found = p.lines.filter((line) => matches(line, by)).length;
  const or = (value: string): string | null => (value === ALL ? null : value);
  return (
    <Page
      title={words.look(chosenWords(by, p.faultWord))}
      sub={words.found(found)}
      next={{ label: words.done, sub: words.found(found), onTake: () => p.onChosen(by) }}
    >
      <div class="records-sought">
        <Choice
          tiles
          legend={words.byLot}
          value={by.lot ?? ALL}
          onChange={(lot) => setBy({ ...by, lot: or(lot) })}
          options={[
            { value: ALL, label: words.allOf.lots },
            ...all.lots.map((lot) => ({ value: lot, label: lot })),
          ]}
        />
        <Choice
          tiles
          legend={words.byEdge}
          value={by.edge ?? ALL}
          onChange={(edge) => setBy({ ...by, edge: or(edge) })}
          options={[
            { value: ALL, label: words.allOf.edges },
            ...all.edges.map((edge) => ({ value: edge, label: words.edge(edge) })),
          ]}
        />
        {all.faults.length > 0 && (
          <Choice
            tiles
            legend={words.byFault}
            value={by.fault ?? ALL}
            onChange={(fault) => setBy({ ...by, fault: or(fault) })}
            options={[
              { value: ALL, label: words.allOf.faults },
              ...all.faults.map((fault) => ({
                value: fault,
                label: p.faultWord(fault),
                drawing: drawnFaults.includes(fault) ? <FaultDrawing fault={fault} width={104} /> : undefined,
              })),
            ]}
          />
        )}
      </div>
    </Page>
  );
}
