/** The words of the bell: each says only what works on this phone now. */
import { clockTime, few, sentence, wait } from "../language/format";

export const rings_here = "rings here";
export const rings_here_lit = "rings here, screen stays on";
export const rings_while_on = "rings here while the screen is on";
export const touch_first = "touch the screen once, then it can ring";
export const silent = "cannot ring on this phone: look at the clock";
export const silent_short = "look at the clock";
export const lit_refused = "this phone lets the screen go dark: it rings only while lit";
export const ringing = "Ready";
export const done_at = (at: number, min: number) =>
  min < 1 ? `ready at ${clockTime(at)}` : `ready at ${clockTime(at)}, ${wait(min)} ago`;
export const due_at = (at: number, min: number) =>
  min < 1 ? `due at ${clockTime(at)}` : `due at ${clockTime(at)}, ${wait(min)} ago`;
export const silence = "Silence";
export const more = "Five minutes more";
export const spoken = (name: string, pieces: number | null) =>
  pieces === null || pieces < 2 ? `${name}: ready.` : `${sentence(few(pieces))} pieces are ready: ${name}.`;
export const spoken_next = (name: string) => `${name}: into the water.`;
