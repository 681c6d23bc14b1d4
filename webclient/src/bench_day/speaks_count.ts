/** Says the count as it rises at the bench, where the maker wants that. */
import { effect } from "@preact/signals";
import { thisPhone } from "../alarms/state";
import { number } from "../language/format";
import { flag } from "../logbook/read";
import { doneOf, piecesOf } from "../profiling/rules";
import { pieces, sessions } from "../profiling/state";
import { speak } from "../wet_hands/voice";
import { openSession } from "./bench_facts";

export function startCounting(): void {
  let before: { session: string; all: number } | null = null;
  effect(() => {
    if (flag(thisPhone(), "speaks_count") !== true) return;
    const session = openSession.value;
    if (session === null) return;
    const { all } = doneOf(piecesOf(session, sessions.value, pieces.value));
    if (before?.session === session.id && all > before.all) speak(number(all));
    before = { session: session.id, all };
  });
}
