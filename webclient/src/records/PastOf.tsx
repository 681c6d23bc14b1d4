/** What was written in this record before, on which device, and did two people write in it unseen? */

import { useEffect, useState } from "preact/hooks";
import { clockTime, day } from "../language/format";
import type { Change } from "../logbook/model";
import { logbook } from "../logbook/state";
import { Part } from "./Opened";
import { type Past, pastOf, together } from "./past";
import { workshopHistory } from "./state";
import * as words from "./words";

export function PastOf(p: { kind: string; id: string; deviceName: (device: string) => string | null }) {
  const [past, setPast] = useState<Past[] | null>(null);
  const row = logbook.row(p.kind, p.id);
  useEffect(() => {
    let isHere = true;
    const show = (changes: readonly Change[]): void => {
      if (isHere) setPast(pastOf(row, changes));
    };
    // What this phone holds at once; the workshop's, which knows the other devices, when it answers.
    const ours = logbook.history(p.kind, p.id).catch((): Change[] => []);
    void ours.then(show);
    void Promise.all([workshopHistory(p.kind, p.id), ours]).then(([theirs, own]) => {
      if (theirs.length > 0) show(together(theirs, own));
    });
    return () => {
      isHere = false;
    };
  }, [p.kind, p.id, row]);
  // What stands is on the screen already; ids and ticks mean nothing to a person here.
  const told = (past ?? [])
    .map((one) => ({
      ...one,
      fields: one.fields.filter(({ name, stands }) => !stands && words.isTold(name)),
    }))
    .filter((one) => one.fields.length > 0);
  if (told.length === 0) return null;
  return (
    <Part title={words.past}>
      <ol class="records-past">
        {told.map((one) => (
          <li key={one.change}>
            <small>
              {day(one.made)} {clockTime(one.made)},{" "}
              {words.by(p.deviceName(one.device) ?? words.anotherDevice)}
              {one.back && `, ${words.takenBack}`}
            </small>
            {one.fields.map((field) => (
              <p key={field.name}>
                <span class="records-was">{words.became(field.name, words.valueSaid(field.value))}</span>
                {field.other && <strong> {words.also(words.valueSaid(field.other.value))}</strong>}
              </p>
            ))}
          </li>
        ))}
      </ol>
    </Part>
  );
}
