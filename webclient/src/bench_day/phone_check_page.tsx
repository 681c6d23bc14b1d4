/** What rings on this phone? Tried, not believed: locked for six minutes, and with the screen on. */
import { useState } from "preact/hooks";
import { seen_since } from "../alarms/bell_track";
import { bell, benchTried, mine, ringsLine, tried } from "../alarms/phone_state";
import * as words from "../alarms/phone_words";
import { wasLocked } from "../alarms/track_rules";
import { now, nowText, second } from "../clock";
import { LeaningPhone } from "../drawings/LeaningPhone";
import { logbook } from "../logbook/state";
import { ringBell } from "../wet_hands/sound";
import { Page, Scribed } from "../workshop";
import { checkEnds } from "./locked_bell";

const SIX_MINUTES_MS = 360_000;

export default function PhoneCheckPage() {
  const ends = checkEnds();
  const [once, setOnce] = useState(false);
  const done = ends !== null && second.value >= ends;
  const locked = ends !== null && wasLocked(ends, seen_since);
  const keep = (set: Record<string, null | string | { rang: boolean; at: string }>): void => {
    logbook.write([{ kind: "device", record: logbook.device, set }]);
  };
  const answer = (rang: boolean): void => {
    setOnce(false);
    const said = { rang, at: nowText() };
    keep(once ? { "check/screen": said } : { "check/locked": said, check_ends_at: null });
  };
  return (
    <Page
      title={words.check}
      sub={words.check_sub}
      next={{
        label: words.check_start,
        sub: words.check_start_sub,
        onTake: () => keep({ check_ends_at: new Date(now() + SIX_MINUTES_MS).toISOString() }),
      }}
    >
      <h2>{words.check_ask}</h2>
      <LeaningPhone />
      {ends !== null && !done && <p role="status">{words.check_until(ends)}</p>}
      {done && !locked && <p class="alarm">{words.check_seen}</p>}
      {(once || (done && locked)) && (
        <div class="side-by-side">
          <Scribed label={words.it_rang} onTake={() => answer(true)} />
          <Scribed label={words.it_did_not} onTake={() => answer(false)} />
        </div>
      )}
      <p>
        {words.screen_on}: <strong>{words.result(tried("screen"))}</strong>
        <br />
        {words.locked}: <strong>{words.result(tried("locked"))}</strong>
        <br />
        {words.bench}:{" "}
        <strong>{bell.value?.there === false ? words.no_bell : words.result(benchTried.value)}</strong>
        {mine.value && (
          <>
            <br />
            {words.by_push}: <strong>{words.came(tried("push"))}</strong>
          </>
        )}
      </p>
      <p class="quiet">
        {ringsLine.value} {words.ring_locked_costs}
      </p>
      <Scribed
        wide
        label={words.ring_once}
        onTake={() => {
          ringBell();
          setOnce(true);
        }}
      />
    </Page>
  );
}
