/** Does the bell track run, and for which ends? Told by what plays it, which is loaded later than this. */
import { signal } from "@preact/signals";
import { now } from "../clock";
import { TRACK_RINGS_S, type Track } from "./rules";

export const track = signal<Track>("off");
/** the ends, ms by this phone's clock */
export const bells = signal<readonly number[]>([]);

/** The track is in its minute of ringing. */
export const trackRings = (): boolean =>
  track.peek() === "runs" &&
  bells.peek().some((bell) => now() >= bell && now() < bell + TRACK_RINGS_S * 1000);
