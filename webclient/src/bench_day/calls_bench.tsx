/** The bench rings: the page that stands open there, or the command that the workshop was started with. */
import { useEffect, useState } from "preact/hooks";
import * as words from "../alarms/calls_words";
import { bell, benchTried, quiet, sayQuiet } from "../alarms/phone_state";
import * as phone_words from "../alarms/phone_words";
import { promiseLine } from "../alarms/state";
import { go } from "../route";
import { ringBell } from "../wet_hands/sound";
import { Page, Scribed, TextField } from "../workshop";
import { askBell, keepTrial, tryBell } from "./calls";

const AGAIN_MS = 1000;
/** A trial rings for ten seconds at most. */
const LOOKS = 14;

const back = { label: words.back, sub: words.back_sub, onTake: () => go("phones") };

/** They hold for push as well as for the bench's bell. */
export function QuietHours() {
  return (
    <Page title={words.quiet_hours} next={back}>
      <p>{words.quiet_sub}</p>
      <TextField
        type="time"
        label={words.quiet_from}
        value={quiet.value.from ?? ""}
        onChange={(said) => sayQuiet({ quiet_from: said || null })}
      />
      <TextField
        type="time"
        label={words.quiet_until}
        value={quiet.value.until ?? ""}
        onChange={(said) => sayQuiet({ quiet_until: said || null })}
      />
    </Page>
  );
}

export function BenchRings(p: { at_machine: boolean }) {
  const [told, setTold] = useState<string | null>(null);
  const [looks, setLooks] = useState<number | null>(null);
  useEffect(() => void askBell(), []);
  useEffect(() => {
    if (looks === null || looks >= LOOKS) return;
    const again = setTimeout(() => {
      void askBell().then(() => setLooks((before) => (before === null ? null : before + 1)));
    }, AGAIN_MS);
    return () => clearTimeout(again);
  }, [looks]);
  const stands = bell.value;
  const ring = async (): Promise<void> => {
    const done = await tryBell();
    setTold(done ? null : words.not_done);
    setLooks(done ? 0 : null);
  };
  const answer = (heard: boolean): void => {
    setLooks(null);
    keepTrial("bench", heard);
  };
  const next = stands?.there
    ? { label: words.bench_ring, sub: words.bench_ring_sub, onTake: () => void ring() }
    : back;
  return (
    <Page title={words.bench} sub={words.bench_sub} next={next}>
      <p role="status" class={looks === null ? "alarm" : undefined}>
        {stands === null ? words.not_answered : looks !== null ? words.bench_rings_now : told}
      </p>
      {looks !== null && (
        <section class="stack" aria-label={words.did_it_ring}>
          <h2>{words.did_it_ring}</h2>
          <div class="side-by-side">
            <Scribed label={phone_words.it_rang} onTake={() => answer(true)} />
            <Scribed label={phone_words.it_did_not} onTake={() => answer(false)} />
          </div>
        </section>
      )}
      <p>{words.bench_page}</p>
      {p.at_machine && (
        <>
          <p>
            <strong>{words.bench_this_page(promiseLine.value)}</strong>
          </p>
          <Scribed wide label={phone_words.ring_once} onTake={ringBell} />
        </>
      )}
      {stands?.there && (
        <>
          <p>{words.bench_command}</p>
          <p class={stands.works === false ? "alarm" : undefined}>{words.bench_went(stands.works)}</p>
          <p>
            {words.heard_line}: <strong>{phone_words.result(benchTried.value)}</strong>
          </p>
        </>
      )}
      {stands && !stands.there && (
        <p>
          {words.bench_none} <strong>{words.bench_how}</strong>
        </p>
      )}
      {next !== back && <Scribed wide label={words.back} sub={words.back_sub} onTake={back.onTake} />}
    </Page>
  );
}
