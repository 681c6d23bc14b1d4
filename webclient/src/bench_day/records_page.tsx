/** Records: all rooms' records joined, offline. */

import { now } from "../clock";
import { dayOf, pieceCount, timeZone } from "../language/format";
import type { Row } from "../logbook/model";
import { num, text } from "../logbook/read";
import { logbook } from "../logbook/state";
import { faultWord } from "../profiling/words";
import { Aside, type RefusedLine } from "../records/Aside";
import { Copies } from "../records/Copies";
import { stateHash } from "../records/hash";
import { BatchOpened, WorkOpened } from "../records/Opened";
import { Screen } from "../records/Screen";
import { everything, hidden, wholeFile } from "../records/state";
import { tableText } from "../records/tables";
import { told } from "../records/whole";
import * as words from "../records/words";
import { route } from "../route";
import { dayOfInstant, derived, entries, lines } from "./records_facts";

export default function RecordsPage() {
  const [what, id] = route.value.rest;
  if (what === "copies")
    return (
      <Copies
        table={(name) => tableText(name, entries.value, derived.value, dayOfInstant)}
        whole={() => wholeFile(dayOf(now(), { timeZone: timeZone.value }))}
        seal={() => stateHash(everything().map(told))}
      />
    );
  if (what === "aside") return <Aside refused={refused()} hidden={hidden()} nameOf={nameOf} />;
  if ((what === "session" || what === "tally") && id) {
    const line = lines.value.work.find((one) => one.id === id);
    if (line)
      return (
        <WorkOpened
          key={id}
          kind={what}
          id={id}
          line={line}
          notes={notesAbout(id, line.batches)}
          faultWord={faultWord}
          deviceName={deviceName}
        />
      );
  }
  if (what === "batch" && id) {
    const line = lines.value.batches.find((one) => one.id === id);
    const work = lines.value.work.filter((one) => one.batches.includes(id));
    if (line)
      return (
        <BatchOpened
          key={id}
          kind="batch"
          id={id}
          line={line}
          work={work}
          notes={notesAbout(id, [])}
          faultWord={faultWord}
          deviceName={deviceName}
        />
      );
  }
  return (
    <Screen lines={lines.value} faultWord={faultWord} refused={refused().length} hidden={hidden().length} />
  );
}

function refused(): RefusedLine[] {
  return logbook.questions.value
    .filter((one) => one.kind === "refused")
    .map(({ id, facts }) => ({
      id,
      kind: typeof facts["kind"] === "string" ? facts["kind"] : "?",
      made: typeof facts["made"] === "string" ? facts["made"] : "",
      problem: typeof facts["problem"] === "string" ? facts["problem"] : "",
      set:
        facts["set"] && typeof facts["set"] === "object" && !Array.isArray(facts["set"]) ? facts["set"] : {},
    }));
}

/** Notes about a record or one of its batches, newest first. */
function notesAbout(
  id: string,
  batches: readonly string[],
): { id: string; text: string; at: number | null }[] {
  return logbook
    .rows("note")
    .filter((row) => [id, ...batches].includes(text(row, "about") ?? ""))
    .map((row) => ({
      id: row.id,
      text: text(row, "text") ?? "",
      at: Date.parse(text(row, "at") ?? "") || null,
    }))
    .reverse();
}

function deviceName(device: string): string | null {
  return device === logbook.device ? words.thisPhone : text(logbook.row("device", device), "name");
}

function nameOf(row: Row): string {
  const said = (names: string[]) => names.map((name) => text(row, name)).find(Boolean);
  const at = said(["day", "put_in", "began", "at"]);
  const pieces = num(row, "pieces");
  const which = [
    said(["label", "name", "words", "text"])?.slice(0, 60),
    at && Date.parse(at) && words.dayAt(at),
    pieces && pieceCount(pieces),
  ];
  return [words.kind(row.kind), which.filter(Boolean).join(", ")].filter(Boolean).join(": ");
}
