/** Makes Easelside open with no network, says so once, and asks before a newer version takes over. */

import { effect, signal } from "@preact/signals";
import { logbook } from "../logbook/state";
import { inSession, readyOffline, updateWaits } from "./state";

const LOOK_AGAIN_MS = 3_600_000;

/** Another tab let the newer version in: this one still shows the older. */
const wasLetIn = signal(false);
let isLettingIn = false;

/** The maker said yes: the waiting version comes in, and this tab opens anew with it. */
function letIn(registration: ServiceWorkerRegistration): void {
  isLettingIn = true;
  if (wasLetIn.peek()) location.reload();
  else registration.waiting?.postMessage("come in");
}

function followOthers(): void {
  navigator.serviceWorker.addEventListener("controllerchange", () => {
    if (isLettingIn) location.reload();
    else wasLetIn.value = true;
  });
}

/** Never during a session: the question comes when it has ended. */
function askWhenFree(registration: ServiceWorkerRegistration): void {
  effect(() => {
    const isWanted = updateWaits.value || wasLetIn.value;
    if (!isWanted || inSession.value) logbook.answered("update");
    else logbook.ask({ id: "update", kind: "update", facts: {}, act: () => letIn(registration) });
  });
}

function watch(registration: ServiceWorkerRegistration, isFirst: boolean): void {
  const look = () => {
    updateWaits.value = registration.waiting !== null && navigator.serviceWorker.controller !== null;
  };
  const follow = (worker: ServiceWorker) =>
    worker.addEventListener("statechange", () => {
      look();
      if (isFirst && worker.state === "activated") readyOffline.value = true;
    });
  if (registration.installing) follow(registration.installing);
  registration.addEventListener("updatefound", () => {
    if (registration.installing) follow(registration.installing);
  });
  look();
}

export async function register(): Promise<void> {
  if (!("serviceWorker" in navigator)) return; // an address without https has none
  const isFirst = navigator.serviceWorker.controller === null;
  try {
    const registration = await navigator.serviceWorker.register("/sw.js", { updateViaCache: "none" });
    watch(registration, isFirst);
    askWhenFree(registration);
    if (!isFirst) followOthers(); // the very first worker takes over a page that is its own version
    setInterval(() => void registration.update().catch(() => undefined), LOOK_AGAIN_MS);
  } catch {
    // no worker: Easelside works as long as the page stands open, and asks again when it is opened next
  }
}
