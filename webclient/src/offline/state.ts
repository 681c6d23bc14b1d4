/** Does it work with no network, is a new version waiting, did the clock jump? What the screens ask. */

import { signal } from "@preact/signals";

/** True once, when this phone has just become able to open Easelside with no network. */
export const readyOffline = signal(false);

/** True while a newer version waits to be let in. */
export const updateWaits = signal(false);

/** The bench sets this while pieces are being cut: nothing is asked then, and nothing reloads. */
export const inSession = signal(false);

export interface ClockJump {
  /** by how much the phone's clock was moved while the page stood open; ahead is positive */
  by_ms: number;
  /** the new reading just after the jump */
  seen: number;
}

/** The clock was moved while the page stood open; null where it was not, or once it was put away. */
export const clockJump = signal<ClockJump | null>(null);
