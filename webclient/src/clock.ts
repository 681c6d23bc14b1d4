/** What time is it? The only place that asks the phone; everything else takes `now` as an argument. */

import { type ReadonlySignal, signal } from "@preact/signals";

/** Unix milliseconds by the phone's own clock. */
export function now(): number {
  return Date.now();
}

/** The present instant as RFC 3339 in UTC with milliseconds. */
export function nowText(): string {
  return new Date(now()).toISOString();
}

const everySecond = signal(now());
const everyMinute = signal(now());

/** `now()`, renewed once a second while the page is seen. */
export const second: ReadonlySignal<number> = everySecond;
/** `now()`, renewed once a minute while the page is seen, and at once when it is seen again. */
export const minute: ReadonlySignal<number> = everyMinute;

function tick(): void {
  const time = now();
  everySecond.value = time;
  if (Math.floor(time / 60_000) !== Math.floor(everyMinute.peek() / 60_000)) everyMinute.value = time;
}

let ticking: ReturnType<typeof setInterval> | null = null;

function tickWhileSeen(): void {
  const isSeen = document.visibilityState === "visible";
  if (isSeen && ticking === null) {
    tick();
    ticking = setInterval(tick, 1000);
  } else if (!isSeen && ticking !== null) {
    clearInterval(ticking);
    ticking = null;
  }
}

if (typeof document !== "undefined") {
  document.addEventListener("visibilitychange", tickWhileSeen);
  tickWhileSeen();
}
