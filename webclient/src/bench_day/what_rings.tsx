/** What rings on this phone now, said beside the soak, and what more can be asked of it. */
import { ringsLine, tried } from "../alarms/phone_state";
import * as words from "../alarms/phone_words";
import { nowText } from "../clock";
import { text } from "../logbook/read";
import { logbook } from "../logbook/state";
import { go } from "../route";
import type { Soak } from "../soak/model";
import { Check, Scribed } from "../workshop";
import { ASKED, INTERRUPTED, ringsLocked } from "./locked_bell";

const keep = (set: Record<string, string | boolean>, kind = "device", record = logbook.device): void => {
  logbook.write([{ kind, record, set }]);
};

/** `soak`: the one that is looked at; null: all of them, or one to come. */
export function WhatRings(p: { soak: Soak | null }) {
  const row = p.soak === null ? undefined : logbook.row("soak", p.soak.id);
  const stopped = text(row, INTERRUPTED + logbook.device);
  const asked = text(row, ASKED + logbook.device);
  return (
    <div class="stack">
      <p class="quiet">
        {ringsLine.value} {stopped !== null && words.interrupted_at(stopped)}{" "}
        {asked !== null && words.calendar_asked(asked)}
      </p>
      {ringsLocked() === null && (
        <Scribed
          wide
          label={words.ring_locked}
          sub={words.ring_locked_costs}
          onTake={() => keep({ rings_locked: true })}
        />
      )}
      {tried("locked") === null && <ToCheck />}
      {p.soak !== null && logbook.status.value.exchange === "ok" && (
        <a
          class="scribed scribed-plain scribed-wide scribed-told"
          href={`/api/soaks/${p.soak.id}/event.ics`}
          onClick={() => p.soak && keep({ [ASKED + logbook.device]: nowText() }, "soak", p.soak.id)}
        >
          <span class="scribed-words">
            <span class="scribed-label">{words.ask_calendar}</span>
            <span class="scribed-sub">{words.ask_calendar_sub}</span>
          </span>
        </a>
      )}
    </div>
  );
}

const ToCheck = () => (
  <Scribed wide label={words.check} sub={words.check_sub} onTake={() => go("phone-check")} />
);

/** On This phone: what rings and what is spoken. */
export function PhoneRings() {
  return (
    <>
      <Check
        label={words.ring_locked}
        sub={words.ring_locked_costs}
        checked={ringsLocked() === true}
        onChange={(rings_locked) => keep({ rings_locked })}
      />
      <p class="quiet">{ringsLine.value}</p>
      <ToCheck />
    </>
  );
}
