/** The calendar's private address: made, shown once as text and square, withdrawn. */
import { useEffect, useState } from "preact/hooks";
import * as words from "../alarms/calls_words";
import { Square } from "../pairing/Screen";
import { go } from "../route";
import { Page, Question, Scribed } from "../workshop";
import { askCalendar, calendar, made, makeAddress, withdrawAddress } from "./calls";

const toCalendar = (): void => go("phones", "calendar");
const toPhones = (): void => go("phones");

export function CallsByCalendar(p: { asks: string | undefined }) {
  const [told, setTold] = useState<{ line: string; wrong: boolean } | null>(null);
  useEffect(() => void askCalendar(), []);
  const after = (done: boolean): void => {
    setTold(done ? null : { line: words.not_done, wrong: true });
    if (done) toCalendar();
  };
  if (p.asks === "withdraw" || p.asks === "new") {
    const isNew = p.asks === "new";
    return (
      <Question
        title={isNew ? words.ask_new : words.ask_withdraw}
        sub={told?.line}
        sides={[
          isNew
            ? {
                label: words.new_address,
                sub: words.new_address_sub,
                onTake: () => void makeAddress().then(after),
              }
            : {
                label: words.withdraw,
                sub: words.withdraw_sub,
                onTake: () => void withdrawAddress().then(after),
              },
        ]}
        meanwhile={words.withdraw_meanwhile}
        next={{ label: words.leave_it, sub: words.leave_sub, onTake: toCalendar }}
      />
    );
  }
  const stands = calendar.value;
  const shown = stands?.on ? made.value : null;
  const address = shown && (shown.address ?? location.origin + shown.path);
  const copy = async (text: string): Promise<void> => {
    try {
      await navigator.clipboard.writeText(text);
      setTold({ line: words.copied, wrong: false });
    } catch {
      setTold({ line: words.not_copied, wrong: true });
    }
  };
  const back = { label: words.back, sub: words.back_sub, onTake: toPhones };
  const next = address
    ? { label: words.copy, onTake: () => void copy(address) }
    : stands && !stands.on
      ? {
          label: words.make_address,
          sub: words.make_address_sub,
          onTake: () => void makeAddress().then(after),
        }
      : back;
  return (
    <Page title={words.calendar} sub={words.calendar_sub} next={next}>
      <p role="status" class={told?.wrong || stands === null ? "alarm" : undefined}>
        {stands === null ? words.not_answered : told?.line}
      </p>
      {shown && address && (
        <section class="stack" aria-label={words.calendar}>
          <p>
            <strong>{words.calendar_once}</strong>
          </p>
          {shown.square !== null && <Square svg={shown.square} said={words.square_said} />}
          <p class="quiet">{words.the_address}</p>
          <p style={{ overflowWrap: "anywhere", userSelect: "all" }}>{address}</p>
          <p>{shown.address === null ? words.calendar_here : words.calendar_trusts}</p>
        </section>
      )}
      <p>{words.calendar_holds}</p>
      <p>
        <strong>{words.calendar_read}</strong>
      </p>
      <p>{words.calendar_no_bell}</p>
      {stands?.on && (
        <>
          <p>
            {words.calendar_made(stands.since)} {shown === null && words.calendar_lost}
          </p>
          {shown === null && (
            <Scribed
              wide
              label={words.new_address}
              sub={words.new_address_sub}
              onTake={() => go("phones", "calendar", "new")}
            />
          )}
          <Scribed
            wide
            label={words.withdraw}
            sub={words.withdraw_sub}
            onTake={() => go("phones", "calendar", "withdraw")}
          />
        </>
      )}
      {next !== back && <Scribed wide label={words.back} sub={words.back_sub} onTake={toPhones} />}
    </Page>
  );
}
