/** Rings, speaks and keeps the screen lit while something is about to end. Only while the page is seen. */
import { computed, effect, type ReadonlySignal, signal } from "@preact/signals";
import { second } from "../clock";
import { logbook } from "../logbook/state";
import { ringBell, sound } from "../wet_hands/sound";
import { speak } from "../wet_hands/voice";
import { awake, keepAwake, letSleep } from "../wet_hands/wake_lock";
import { type Ending, nextRing, promised, ringing } from "./rules";
import { trackRings } from "./track_state";
import * as words from "./words";

const ringing_now = signal<Ending[]>([]);
/** What rings at this moment, the earliest end first. */
export const rings: ReadonlySignal<Ending[]> = ringing_now;

/** A bell every three seconds, the words every half minute. */
const BELL_EVERY_S = 3;
const WORDS_EVERY_S = 30;

/** Watches what ends. `time` turns the phone's clock into the one that the ends are told in. */
export function watch(
  endings: () => readonly Ending[],
  time: (phone_ms: number) => number,
  spoken: (ending: Ending) => string,
): () => void {
  const beats = new Map<string, { began: number; last: number }>();
  return effect(() => {
    const all = endings();
    const now = time(second.value);
    const on = ringing(all, now);
    if (nextRing(all, now) !== null || on.length > 0) keepAwake("soak");
    else letSleep("soak");
    const said = on.map((ending) => ending.id).join();
    if (
      said !==
      ringing_now
        .peek()
        .map((ending) => ending.id)
        .join()
    )
      ringing_now.value = on;
    for (const id of [...beats.keys()]) if (!on.some((ending) => ending.id === id)) beats.delete(id);
    const first = on[0];
    if (first === undefined) return;
    const beat = Math.floor(now / 1000);
    const before = beats.get(first.id);
    if (before?.last === beat) return; // two signals of one tick: one bell
    const began = before?.began ?? beat;
    beats.set(first.id, { began, last: beat });
    if ((beat - began) % BELL_EVERY_S === 0 && !trackRings()) ringBell();
    if ((beat - began) % WORDS_EVERY_S === 0) speak(spoken(first));
  });
}

/** The honest line beside a countdown. */
export const promiseLine: ReadonlySignal<string> = computed(() => {
  const { rings: bell, stays_lit } = promised(sound.value, awake.value);
  if (bell === "touch_first") return words.touch_first;
  if (bell === "silent") return words.silent;
  if (stays_lit) return words.rings_here_lit;
  return awake.value === "refused" || awake.value === "missing" ? words.lit_refused : words.rings_while_on;
});

/** The same in two words, for the bench edge. */
export const shortPromise: ReadonlySignal<string> = computed(() =>
  sound.value === "missing" ? words.silent_short : words.rings_here,
);

/** What is kept of this phone. */
export const thisPhone = () => logbook.row("device", logbook.device);
