/** What rings on this phone, locked too, what calls beyond it, and what of all that was heard when it was tried. */
import { computed, type ReadonlySignal, signal } from "@preact/signals";
import { WORKSHOP } from "../logbook/ids";
import { dict, text } from "../logbook/read";
import { logbook } from "../logbook/state";
import type { BenchBell, Push, PushedDevice } from "./model";
import * as words from "./phone_words";
import { promiseLine, thisPhone } from "./state";
import { alsoCalls, whenLocked } from "./track_rules";
import { track } from "./track_state";

export interface Trial {
  rang: boolean;
  at: string;
}

function trial(row: ReturnType<typeof thisPhone>, what: string): Trial | null {
  const { rang, at } = dict(row, `check/${what}`);
  return typeof rang === "boolean" && typeof at === "string" ? { rang, at } : null;
}

/** What was heard when it was tried: locked, with the screen on; or came by push. */
export const tried = (what: "locked" | "screen" | "push"): Trial | null => trial(thisPhone(), what);

/** The bench was heard by whoever stood there, whichever device was asked. */
export const benchTried: ReadonlySignal<Trial | null> = computed(() =>
  logbook
    .rows("device")
    .map((row) => trial(row, "bench"))
    .reduce((a, b) => (a === null || (b !== null && b.at > a.at) ? b : a), null),
);

/** As the workshop said when it was last asked; null: it has not answered. */
export const push = signal<Push | null>(null);
export const bell = signal<BenchBell | null>(null);
/** The workshop's name for what this browser is subscribed to; null: it is not. */
export const subscribed = signal<string | null>(null);

/** This device's subscription, where browser and workshop agree on it. */
export const mine: ReadonlySignal<PushedDevice | null> = computed(
  () => push.value?.devices.find(({ id }) => id === subscribed.value) ?? null,
);

/** The hours in which the workshop calls nobody; the record is the workshop's one. */
export const quiet = computed(() => {
  const row = logbook.row("workshop", WORKSHOP);
  return { from: text(row, "quiet_from"), until: text(row, "quiet_until") };
});
export const sayQuiet = (set: { quiet_from: string | null } | { quiet_until: string | null }): void => {
  logbook.write([{ kind: "workshop", record: WORKSHOP, set }]);
};

/** What rings on this phone now, screen on and locked, and what calls beyond it. */
export const ringsLine: ReadonlySignal<string> = computed(() => {
  const test = tried("locked");
  const on_it = words.screen_and_locked(
    promiseLine.value,
    whenLocked(track.value, test?.rang ?? null),
    test?.at ?? null,
  );
  const { exchange, unsent } = logbook.status.value;
  const also = alsoCalls({
    knows: exchange === "ok" && unsent === 0,
    bell: bell.value,
    heard: benchTried.value?.rang ?? null,
    mine: mine.value,
    came: tried("push")?.rang ?? null,
  });
  return also.length === 0 ? on_it : `${on_it} ${words.also(also, quiet.value)}`;
});
