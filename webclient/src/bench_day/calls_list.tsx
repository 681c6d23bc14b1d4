/** On Phones: what calls beyond this phone, and how each stands. */
import { useEffect } from "preact/hooks";
import * as words from "../alarms/calls_words";
import { bell, mine, push, quiet } from "../alarms/phone_state";
import { go } from "../route";
import { Scribed } from "../workshop";
import { askBell, askCalendar, askPush, calendar } from "./calls";

export function Calls(p: { maker: boolean }) {
  useEffect(() => {
    void askPush();
    void askBell();
    if (p.maker) void askCalendar();
  }, [p.maker]);
  const [by_push, at_bench, stands] = [push.value, bell.value, calendar.value];
  return (
    <section class="stack">
      <h2>{words.calls}</h2>
      <Scribed
        wide
        label={words.push}
        sub={
          by_push ? words.push_state(by_push.on, mine.value !== null, by_push.devices.length) : words.push_sub
        }
        onTake={() => go("phones", "push")}
      />
      {p.maker && (
        <Scribed
          wide
          label={words.calendar}
          sub={stands ? words.calendar_state(stands.on ? stands.since : null) : words.calendar_sub}
          onTake={() => go("phones", "calendar")}
        />
      )}
      <Scribed
        wide
        label={words.bench}
        sub={at_bench ? words.bench_state(at_bench.there, at_bench.works) : words.bench_sub}
        onTake={() => go("phones", "bell")}
      />
      {p.maker && (
        <Scribed
          wide
          label={words.quiet_hours}
          sub={words.quiet_state(quiet.value)}
          onTake={() => go("phones", "quiet")}
        />
      )}
    </section>
  );
}
