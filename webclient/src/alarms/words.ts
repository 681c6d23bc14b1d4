/** The words of the bell: each says only what works on this phone now. */
import { clockTime, wait } from "../language/format";

export const words = {
  rings_here: "rings here",
  rings_here_lit: "rings here, screen stays on",
  rings_while_on: "rings here while the screen is on",
  touch_first: "touch the screen once, then it can ring",
  silent: "cannot ring on this phone: look at the clock",
  silent_short: "look at the clock",
  lit_refused: "this phone lets the screen go dark: it rings only while lit",
  ringing: "Ready",
  done_at: (at: number, min: number) =>
    min < 1 ? `ready at ${clockTime(at)}` : `ready at ${clockTime(at)}, ${wait(min)} ago`,
  due_at: (at: number, min: number) =>
    min < 1 ? `due at ${clockTime(at)}` : `due at ${clockTime(at)}, ${wait(min)} ago`,
  silence: "Silence",
  more: "Five minutes more",
  spoken: (name: string) => `${name}: ready.`,
  spoken_next: (name: string) => `${name}: into the water.`,
} as const;
