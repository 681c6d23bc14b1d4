/** How does this device hear of others at once, and where does one go that is not let in? Runs beside every room. */
import { effect } from "@preact/signals";
import { exchange, letIn } from "../exchange/state";
import { logbook } from "../logbook/state";
import { Line, whileSeen } from "../pairing/line";
import { askAtMachines, atMachines } from "../pairing/state";
import { go, route } from "../route";
import { PedalKeys } from "../wet_hands/PedalKeys";
import { AtMachines, NotLetIn } from "./at_machines";
import { startAsking } from "./calls";
import { startLockedBell } from "./locked_bell";
import { ofPhones } from "./other_phones";
import { startCounting } from "./speaks_count";
import { PhoneRings, WhatRings } from "./what_rings";

const isNew = (): boolean => logbook.status.peek().lastExchange === null;

export function listen(): void {
  ofPhones.value = { NotLetIn, AtMachines, WhatRings, PhoneRings, PedalKeys };
  startLockedBell();
  startCounting();
  startAsking();
  const line = new Line({
    open: (url) => new EventSource(url),
    chance: Math.random,
    device: () => logbook.device,
    changed: (wait_ms) => exchange.soon(wait_ms),
    at: (all) => {
      atMachines.value = all;
    },
    ask: () => void askAtMachines(),
  });
  let stop: (() => void) | null = null;
  effect(() => {
    const isIn = letIn.value === "yes";
    if (isIn && stop === null) stop = whileSeen(line);
    if (!isIn && stop !== null) {
      stop();
      stop = null;
    }
  });
  // a device that is new here has nothing to show but the way in
  effect(() => {
    if (letIn.value === "not_paired" && isNew() && route.peek().room === "today") go("phones");
  });
}
