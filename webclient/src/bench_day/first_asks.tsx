/** Lot, machine, blade: each asked once, when it first matters, with one field and "later". */
import { useState } from "preact/hooks";
import { nowText } from "../clock";
import { dayOf, list } from "../language/format";
import { dict } from "../logbook/read";
import { logbook, newId } from "../logbook/state";
import { changeDevice } from "../set_up/state";
import * as did_words from "../soak/did_words";
import { inTheWater } from "../soak/rules";
import { order, soaks } from "../soak/state";
import { Scribed, TextField } from "../workshop";
import type { FirstAsk } from "./today_rules";
import * as words from "./today_words";

/** What this phone's maker put off on that day. */
export function putOff(today: string): string[] {
  return Object.entries(dict(logbook.row("device", logbook.device), "later"))
    .filter(([, day]) => day === today)
    .map(([what]) => what);
}

export function FirstAskNow(p: { what: FirstAsk; now: number }) {
  const [typed, setTyped] = useState("");
  const said = words.ask[p.what];
  const name = typed.trim();
  const wet = inTheWater(soaks.value);
  const jars = p.what === "lot" && wet.length > 1 ? wet.filter((soak) => soak.lot === null) : [];
  const later = (): void => {
    const put_off = dict(logbook.row("device", logbook.device), "later");
    changeDevice({ later: { ...put_off, [p.what]: dayOf(p.now) } });
  };
  return (
    <section class="first-field stack" aria-labelledby="first-ask">
      <h2 id="first-ask">
        {jars.length > 0 ? words.which_lot(list(jars.map((soak) => soak.jar).sort())) : said.title}
      </h2>
      <TextField label={said.field} value={typed} onChange={setTyped} maxLength={60} sub={said.why} />
      <div class="side-by-side">
        <Scribed
          label={words.keep}
          disabled={name === ""}
          onTake={() => {
            keep(p.what, name);
            setTyped("");
          }}
        />
        <Scribed label={words.later} onTake={later} />
      </div>
    </section>
  );
}

/** Take back, right after, takes the name back. */
function keep(what: FirstAsk, name: string): void {
  const id = newId();
  if (what === "lot") {
    // the cane in the water is of this lot: that is why it is asked now
    const wet = inTheWater(soaks.peek()).filter((soak) => soak.lot === null);
    order(did_words.named, [
      { kind: "lot", record: id, set: { label: name } },
      ...wet.map((soak) => ({ kind: "soak", record: soak.id, set: { lot: id } })),
    ]);
    return;
  }
  if (what === "machine") {
    const set = { name, does: "profile", instrument: "bassoon" };
    order(did_words.named, [{ kind: "machine", record: id, set }]);
    return;
  }
  const machine = logbook.rows("machine").at(-1);
  const move = machine
    ? [
        {
          kind: "blade_move",
          record: newId(),
          set: { blade: id, machine: machine.id, what: "fitted", at: nowText() },
        },
      ]
    : [];
  order(did_words.named, [{ kind: "blade", record: id, set: { label: name } }, ...move]);
}
