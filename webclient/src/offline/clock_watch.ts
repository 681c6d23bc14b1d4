/** Was the phone's clock moved while the page stood open? The monotonic clock knows; a reload forgets. */

import { now } from "../clock";
import { clockJump } from "./state";

const EVERY_MS = 5000;
export const JUMP_MS = 60_000;

/**
 * By how much the wall clock moved against the monotonic one; null where it is no more than drift.
 * A monotonic clock may stand still while the phone sleeps: forward by as long as nothing was seen is sleep.
 */
export function jumpOf(wall_ms: number, monotonic_ms: number, mayHaveSlept: boolean): number | null {
  const by = wall_ms - monotonic_ms;
  if (Math.abs(by) < JUMP_MS) return null;
  return by > 0 && mayHaveSlept ? null : by;
}

export function watchClock(): void {
  let wall = now();
  let monotonic = performance.now();
  let wasHidden = false;
  const look = () => {
    const wallNow = now();
    const monotonicNow = performance.now();
    const by = jumpOf(wallNow - wall, monotonicNow - monotonic, wasHidden || document.hidden);
    if (by !== null) clockJump.value = { by_ms: Math.round(by), seen: wallNow };
    wall = wallNow;
    monotonic = monotonicNow;
    wasHidden = document.hidden;
  };
  setInterval(look, EVERY_MS);
  document.addEventListener("visibilitychange", look);
}
