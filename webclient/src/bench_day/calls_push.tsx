/** Messages by push: turned on for the workshop, said yes to by each device, and tried. */
import { useEffect, useState } from "preact/hooks";
import * as words from "../alarms/calls_words";
import { mine, push, tried } from "../alarms/phone_state";
import * as phone_words from "../alarms/phone_words";
import { subscribe, trialsShown, unsubscribe } from "../alarms/push";
import { text } from "../logbook/read";
import { logbook } from "../logbook/state";
import { go } from "../route";
import { type Next, Page, Question, Scribed, TextField } from "../workshop";
import { askPush, keepTrial, switchPush, tryPush } from "./calls";

const AGAIN_MS = 1000;
/** For so many looks it is watched whether the message comes. */
const LOOKS = 60;
/** Before that, what the workshop says of the last message is of the one before. */
const SOON = 3;
const toPush = (): void => go("phones", "push");
const toPhones = (): void => go("phones");

export function CallsByPush(p: { maker: boolean; asks: boolean }) {
  const [told, setTold] = useState<{ line: string; wrong: boolean } | null>(null);
  const [contact, setContact] = useState("");
  const [looks, setLooks] = useState<number | null>(null);
  useEffect(() => void askPush(), []);
  const say = (line: string, wrong = true): void => setTold({ line, wrong });
  const stands = push.value;
  const here = mine.value;

  const answer = (came: boolean): void => {
    setLooks(null);
    keepTrial("push", came);
    if (came) say(words.came_now, false);
    else say(words.did_not_come_why);
  };
  useEffect(() => {
    if (looks === null) return;
    const again = setTimeout(async () => {
      const [shown] = await trialsShown();
      await askPush();
      if (shown) answer(true);
      else setLooks((before) => (before === null || before >= LOOKS ? before : before + 1));
    }, AGAIN_MS);
    return () => clearTimeout(again);
  }, [looks]);

  const turn = async (on: boolean): Promise<void> => {
    const done = await switchPush(on, contact.trim());
    if (!done) say(words.not_done);
    else if (!on) toPush();
  };
  const begin = async (): Promise<void> => {
    say(words.asking_device, false);
    const became = await subscribe(logbook.device);
    await askPush();
    if (became === "on") keepTrial("push", null);
    say(words.pushed[became], became !== "on");
  };
  const trial = async (): Promise<void> => {
    for (const one of await trialsShown()) one.close();
    const under_way = await tryPush();
    if (!under_way) return say(under_way === null ? words.not_done : words.push_gone);
    say(words.push_under_way, false);
    setLooks(0);
  };

  if (p.asks)
    return (
      <Question
        title={words.ask_push_off}
        sub={told?.line}
        sides={[{ label: words.push_off, sub: words.push_off_yes_sub, onTake: () => void turn(false) }]}
        meanwhile={words.push_off_meanwhile}
        next={{ label: words.leave_it, sub: words.push_off_leave_sub, onTake: toPush }}
      />
    );
  const back: Next = { label: words.back, sub: words.back_sub, onTake: toPhones };
  const wrongContact = contact.trim() !== "" && !/^[^@\s]+@[^@\s]+$/.test(contact.trim());
  let next = back;
  if (stands?.on && here)
    next = { label: words.push_try, sub: words.push_try_sub, onTake: () => void trial() };
  else if (stands?.on)
    next = { label: words.push_here, sub: words.push_here_sub, onTake: () => void begin() };
  else if (stands && p.maker)
    next = {
      label: words.push_on,
      sub: words.push_on_sub,
      disabled: wrongContact,
      onTake: () => void turn(true),
    };
  const wrong = looks !== null && looks > SOON && here?.went_wrong;
  return (
    <Page title={words.push} sub={words.push_sub} next={next}>
      <p role="status" class={told?.wrong || wrong ? "alarm" : undefined}>
        {stands === null
          ? words.not_answered
          : wrong
            ? words.not_handed_over(wrong)
            : looks !== null && looks > SOON && here?.went_well
              ? words.handed_over
              : told?.line}
      </p>
      {looks !== null && (
        <section class="stack" aria-label={words.did_it_come}>
          <h2>{words.did_it_come}</h2>
          <div class="side-by-side">
            <Scribed label={words.it_came} onTake={() => answer(true)} />
            <Scribed label={words.it_did_not_come} onTake={() => answer(false)} />
          </div>
        </section>
      )}
      <p>{words.push_calls}</p>
      <p>
        <strong>{words.push_needs}</strong> {words.push_goes}
      </p>
      {stands?.on && here && (
        <p>
          {phone_words.by_push}: <strong>{phone_words.came(tried("push"))}</strong>
        </p>
      )}
      {stands && !stands.on && !p.maker && <p>{words.push_makers}</p>}
      {stands && !stands.on && p.maker && (
        <TextField
          label={words.contact}
          sub={words.contact_sub}
          maxLength={180}
          value={contact}
          wrong={wrongContact ? words.contact_wrong : undefined}
          onChange={setContact}
        />
      )}
      {stands?.on && stands.devices.length > 0 && (
        <section>
          <h2>{words.push_devices}</h2>
          {stands.devices.map((one) => (
            <p key={one.id}>
              <strong>
                {one === here
                  ? words.this_device
                  : (text(logbook.row("device", one.device), "name") ?? words.some_device)}
              </strong>
              <br />
              {words.device_went(one.service, one.went_well, one.went_wrong)}
            </p>
          ))}
        </section>
      )}
      {here && (
        <Scribed
          wide
          label={words.push_stop}
          sub={words.push_stop_sub}
          onTake={() =>
            void unsubscribe().then(async (done) => {
              setLooks(null);
              setTold(done ? null : { line: words.not_done, wrong: true });
              await askPush();
            })
          }
        />
      )}
      {stands?.on && p.maker && (
        <Scribed
          wide
          label={words.push_off}
          sub={words.push_off_sub}
          onTake={() => go("phones", "push", "off")}
        />
      )}
      {next !== back && <Scribed wide label={words.back} sub={words.back_sub} onTake={toPhones} />}
    </Page>
  );
}
