/** Does a locked phone ring? One recording plays from the tap that starts a soak to the end of the last bell. */
import { effect } from "@preact/signals";
import { now } from "../clock";
import { interruptedAt, stretches, trackHead, trackSecond } from "./track_rules";
import { track as state, bells as told, trackRings } from "./track_state";

/** Since when the page is seen, ms. */
export let seen_since = now();

export interface Wanted {
  /** the ends, ms by this phone's clock */
  bells: number[];
  /** on the lock screen */
  title: string;
}

/** What the lock screen's and the headphones' keys do, and what is written down of a bell that stopped. */
export interface Hands {
  silence: () => void;
  more: () => void;
  interrupted: (at: number) => void;
}

let audio: HTMLAudioElement | null = null;
let wanted: Wanted = { bells: [], title: "" };
let hands: Hands | null = null;
let plan = "";
let began = 0;
let froze: number | null = null;

export function keepTrack(want: () => Wanted, does: Hands): void {
  hands = does;
  effect(() => {
    wanted = want();
    told.value = wanted.bells;
    renew();
  });
  document.addEventListener("visibilitychange", () => {
    if (document.hidden) return;
    seen_since = now();
    lags();
    renew();
  });
  document.addEventListener("freeze", () => {
    if (state.peek() === "runs") froze = now();
  });
  for (const what of ["click", "keydown"])
    addEventListener(what, () => state.peek() === "touch_first" && renew());
}

/** A new recording where the old one no longer says what is wanted. Behind another page only by the maker's own key. */
function renew(by_key = false): void {
  const parts = stretches(wanted.bells, now());
  if (parts.length === 0) stop();
  else if (by_key || (!document.hidden && (plan !== String(wanted.bells) || audio?.paused))) play(parts);
}

function stop(): void {
  plan = "";
  audio?.pause();
  state.value = "off";
}

function play(parts: ReturnType<typeof stretches>): void {
  audio ??= made();
  const [waits, rings] = [trackSecond(false), trackSecond(true)];
  // a minute is one piece of the file, whose bytes all the others share: ten hours cost no more than a minute
  const minute = new Blob(Array(60).fill(waits));
  const body = parts.flatMap(({ rings: bell, s }): BlobPart[] =>
    bell ? Array(s).fill(rings) : [...Array(Math.floor(s / 60)).fill(minute), ...Array(s % 60).fill(waits)],
  );
  const head = trackHead(parts.reduce((sum, { s }) => sum + s, 0));
  URL.revokeObjectURL(audio.src);
  audio.src = URL.createObjectURL(new Blob([head, ...body], { type: "audio/wav" }));
  plan = String(wanted.bells);
  began = now();
  audio.play().then(
    () => {
      state.value = "runs";
    },
    (problem: DOMException) => {
      if (problem.name !== "AbortError") state.value = "touch_first"; // that one gave way to a newer recording
    },
  );
  const { mediaSession } = navigator;
  if (mediaSession) mediaSession.metadata = new MediaMetadata({ title: wanted.title });
}

function made(): HTMLAudioElement {
  const element = new Audio();
  const { audioSession } = navigator as { audioSession?: { type: string } };
  if (audioSession) audioSession.type = "playback"; // a phone switched to silent rings all the same
  element.addEventListener("timeupdate", lags);
  element.addEventListener("ended", stop);
  element.addEventListener("pause", () => {
    if (plan !== "" && element.paused && !element.ended) stopped(now());
  });
  const answer = (does: (() => void) | undefined): void => {
    does?.();
    renew(true);
  };
  const press = (): void => {
    if (trackRings()) answer(hands?.silence);
    else if (element.paused) renew(true);
    else element.pause();
  };
  const keys: [MediaSessionAction, () => void][] = [
    ["play", press],
    ["pause", press],
    ["stop", () => (trackRings() ? answer(hands?.silence) : element.pause())],
    ["nexttrack", () => trackRings() && answer(hands?.more)],
  ];
  for (const [key, does] of keys) navigator.mediaSession?.setActionHandler(key, does);
  return element;
}

/** A frozen page stops the track without a word, and a phone that slept lets it lag behind the clock. */
function lags(): void {
  if (state.peek() !== "runs" || audio === null) return;
  const at = froze ?? interruptedAt(began, audio.currentTime, now());
  froze = null;
  if (at === null) return;
  stopped(at);
  renew(true);
}

function stopped(at: number): void {
  if (state.peek() !== "runs") return;
  state.value = "interrupted";
  hands?.interrupted(at);
}
