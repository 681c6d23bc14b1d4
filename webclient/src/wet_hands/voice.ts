/** Can this phone speak? Only with a voice that it carries itself, and only after a first touch. */

import { flag } from "../logbook/read";
import { logbook } from "../logbook/state";

/** A browser stays silent until the page was touched once. */
let touched = false;

/** The voice for this language that needs no network; null: there is none. */
export function ownVoice(
  voices: readonly SpeechSynthesisVoice[],
  language: string,
): SpeechSynthesisVoice | null {
  const local = voices.filter((voice) => voice.localService);
  const primary = language.split("-")[0] ?? language;
  return (
    local.find((voice) => voice.lang === language) ??
    local.find((voice) => voice.lang.split(/[-_]/)[0] === primary) ??
    null
  );
}

/** Our words are English: they are spoken by an English voice, or not at all. */
export function hasVoice(): boolean {
  return typeof speechSynthesis !== "undefined" && ownVoice(speechSynthesis.getVoices(), "en") !== null;
}

/** Says it and drops what was being said. Silent where the maker wants that, without a voice, while the page is hidden. */
export function speak(said: string): void {
  if (typeof speechSynthesis === "undefined" || !touched || document.visibilityState !== "visible") return;
  if (flag(logbook.row("device", logbook.device), "speaks") === false) return;
  const voice = ownVoice(speechSynthesis.getVoices(), "en");
  if (voice === null) return;
  speechSynthesis.cancel();
  const spoken = new SpeechSynthesisUtterance(said);
  spoken.voice = voice;
  spoken.lang = voice.lang;
  speechSynthesis.speak(spoken);
}

if (typeof window !== "undefined") {
  const touch = (): void => {
    touched = true;
    if (typeof speechSynthesis !== "undefined") speechSynthesis.getVoices(); // some browsers load them only when asked
  };
  for (const what of ["click", "keydown"])
    window.addEventListener(what, touch, { capture: true, passive: true, once: true });
}
