/** What rings on this phone, locked too, and what of it was heard when it was tried. */
import { computed, type ReadonlySignal } from "@preact/signals";
import { dict } from "../logbook/read";
import * as words from "./phone_words";
import { promiseLine, thisPhone } from "./state";
import { whenLocked } from "./track_rules";
import { track } from "./track_state";

/** What was heard when it was tried: locked, or with the screen on. */
export function tried(what: "locked" | "screen"): { rang: boolean; at: string } | null {
  const { rang, at } = dict(thisPhone(), `check/${what}`);
  return typeof rang === "boolean" && typeof at === "string" ? { rang, at } : null;
}

/** What rings on this phone now, screen on and locked. */
export const ringsLine: ReadonlySignal<string> = computed(() => {
  const test = tried("locked");
  return words.screen_and_locked(
    promiseLine.value,
    whenLocked(track.value, test?.rang ?? null),
    test?.at ?? null,
  );
});
