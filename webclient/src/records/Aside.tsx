/** What is out of sight and not thrown away: what the workshop did not take, and what was removed. */

import type { Row, Value } from "../logbook/model";
import { showAgain } from "../logbook/never_was";
import { Page, Scribed } from "../workshop";
import { Part, toRecords } from "./Opened";
import { writtenSince } from "./past";
import { save } from "./state";
import * as words from "./words";

export interface RefusedLine {
  id: string;
  kind: string;
  made: string;
  problem: string;
  set: { [name: string]: Value };
}

export function Aside(p: {
  refused: readonly RefusedLine[];
  hidden: readonly Row[];
  nameOf: (row: Row) => string;
}) {
  return (
    <Page title={words.setAside} next={toRecords}>
      {p.refused.length + p.hidden.length === 0 && <p class="records-none">{words.nothingAside}</p>}
      {p.refused.length > 0 && (
        <Part title={words.refused}>
          <p class="records-quiet">{words.refusedSub}</p>
          {p.refused.map((one) => (
            <div key={one.id} class="records-aside">
              <p>
                <strong>{words.kind(one.kind)}</strong>, {words.valueSaid(one.made)}
              </p>
              <p class="alarm">{one.problem}</p>
              {Object.entries(one.set).map(([name, value]) => (
                <p key={name} class="records-cut">
                  {words.became(name, words.valueSaid(value))}
                </p>
              ))}
              <Scribed
                label={words.saveOne}
                onTake={() =>
                  save({
                    name: `easelside-${one.kind}-${one.id.slice(-6)}.json`,
                    type: "application/json",
                    text: JSON.stringify(one, null, 1),
                  })
                }
              />
            </div>
          ))}
        </Part>
      )}
      {p.hidden.length > 0 && (
        <Part title={words.hidden}>
          <p class="records-quiet">{words.hiddenSub}</p>
          {p.hidden.map((row) => (
            <div key={`${row.kind}/${row.id}`} class="records-aside">
              <p>
                <strong>{p.nameOf(row)}</strong>
              </p>
              {writtenSince(row).length > 0 && <p>{words.writtenSince(writtenSince(row))}</p>}
              <Scribed label={words.showAgain} onTake={() => showAgain(row.kind, row.id)} />
            </div>
          ))}
        </Part>
      )}
    </Page>
  );
}
