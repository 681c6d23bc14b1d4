/** What should ring now, and what may the line beside it promise? Times in ms since 1970. */

/** Something that ends: `at` is the end; silenced once the maker has heard it. */
export interface Ending {
  id: string;
  at: number;
  silenced: boolean;
  /** "five minutes more": rings again then */
  again_at: number | null;
}

/** A bell that nobody answers stops by itself: who comes back later reads how long ago it was. */
export const RINGS_FOR_MS = 10 * 60_000;

export const MORE_MS = 5 * 60_000;

/** What rings now, the earliest end first. */
export function ringing(endings: readonly Ending[], now: number): Ending[] {
  return endings
    .filter((ending) => {
      const from = ending.again_at ?? ending.at;
      if (ending.silenced && ending.again_at === null) return false;
      return now >= from && now - from < RINGS_FOR_MS;
    })
    .sort((a, b) => a.at - b.at);
}

/** The next moment at which something rings; null: nothing waits. The screen is kept awake until then. */
export function nextRing(endings: readonly Ending[], now: number): number | null {
  const coming = endings
    .map((ending) => (ending.again_at !== null ? ending.again_at : ending.silenced ? 0 : ending.at))
    .filter((at) => at > now);
  return coming.length > 0 ? Math.min(...coming) : null;
}

export type Sound = "ready" | "locked" | "missing";
export type Awake = "held" | "asked" | "refused" | "missing" | "off";

/** What the line says: each promise only while its part works now. */
export interface Promised {
  rings: "rings_here" | "touch_first" | "silent";
  stays_lit: boolean;
}

export function promised(sound: Sound, awake: Awake): Promised {
  return {
    rings: sound === "ready" ? "rings_here" : sound === "locked" ? "touch_first" : "silent",
    stays_lit: awake === "held",
  };
}

/** The bell track: off, playing, waiting for a touch, or stopped by something else. */
export type Track = "off" | "runs" | "touch_first" | "interrupted";
export const TRACK_RINGS_S = 60;
