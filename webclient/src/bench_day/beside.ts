/** What runs beside every room once the first stands: the bell for what is in the water, and the Chest's lines. */
import { effect, untracked } from "@preact/signals";
import { minute } from "../clock";
import { logbook } from "../logbook/state";
import { inSession } from "../offline/state";
import { asleep } from "../profiling/rules";
import { pieces, sessions } from "../profiling/state";
import { chest } from "../workshop/chest_state";
import { drawers } from "./chest_lines";
import { startRinging } from "./ringing";
import { wearSettings } from "./set_up_wear";

export default function beside(): void {
  wearSettings();
  behindThePaint(() => {
    chest.value = drawers.peek();
    inSession.value = isUnderWay();
  });
  startRinging();
  void import("./let_in").then(({ listen }) => listen());
  void import("./foreseen").then(({ foresee }) => foresee());
}

/** A tap counts and paints first: what follows from it elsewhere is worked out once that is on the screen. */
function behindThePaint(work: () => void): void {
  let waits = false;
  const done = (): void => {
    waits = false;
    untracked(work);
  };
  effect(() => {
    // every change here, every exchange and every minute goes through one of these
    void logbook.status.value;
    void minute.value;
    if (waits) return;
    waits = true;
    requestAnimationFrame(() => setTimeout(done));
  });
}

/** Is somebody at the bench? Then no update is asked about. A session left open overnight does not count. */
function isUnderWay(): boolean {
  const left = new Set(asleep(sessions.value, pieces.value, minute.value).map(({ id }) => id));
  return sessions.value.some((one) => one.began && !one.ended && !one.joinedTo && !left.has(one.id));
}
