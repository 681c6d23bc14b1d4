/** Can this phone be heard now? A short bell, made here: no file, no network. */
import { type ReadonlySignal, signal } from "@preact/signals";

const ready = signal<"ready" | "locked" | "missing">(
  typeof AudioContext === "undefined" ? "missing" : "locked",
);

/** `locked`: the browser wants one touch first. */
export const sound: ReadonlySignal<"ready" | "locked" | "missing"> = ready;

let context: AudioContext | null = null;

/** Called within a touch or key: the only moment at which a browser lets sound begin. */
export function unlockSound(): void {
  if (typeof AudioContext === "undefined") return;
  try {
    context ??= heardContext();
    void context.resume().then(tell, tell);
  } catch {
    ready.value = "missing";
  }
}

function heardContext(): AudioContext {
  const made = new AudioContext();
  made.addEventListener("statechange", tell);
  return made;
}

function tell(): void {
  ready.value = context?.state === "running" ? "ready" : "locked";
}

/** Two partials of a struck bar, a second and a half long. */
export function ringBell(): void {
  if (context === null || context.state !== "running") return;
  const start = context.currentTime;
  for (const [hertz, loud] of [
    [880, 0.5],
    [2428, 0.18], // 2.76 times the first: a free bar's second partial
  ] as const) {
    const tone = context.createOscillator();
    const fades = context.createGain();
    tone.frequency.value = hertz;
    fades.gain.setValueAtTime(0, start);
    fades.gain.linearRampToValueAtTime(loud, start + 0.005);
    fades.gain.exponentialRampToValueAtTime(0.001, start + 1.5);
    tone.connect(fades).connect(context.destination);
    tone.start(start);
    tone.stop(start + 1.6);
  }
}

if (typeof window !== "undefined") {
  for (const what of ["click", "keydown"])
    window.addEventListener(what, unlockSound, { capture: true, passive: true });
}
