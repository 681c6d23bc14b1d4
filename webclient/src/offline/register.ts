/** Makes Easelside open with no network, says so once, and asks before a newer version takes over. */

import { effect } from "@preact/signals";
import { logbook } from "../logbook/state";
import { inSession, readyOffline, updateWaits } from "./state";

const LOOK_AGAIN_MS = 3_600_000;

/** The maker said yes: the waiting version comes in, and every tab opens anew with it. */
function letIn(registration: ServiceWorkerRegistration): void {
  navigator.serviceWorker.addEventListener("controllerchange", () => location.reload(), { once: true });
  registration.waiting?.postMessage("come in");
}

/** Never during a session: the question comes when it has ended. */
function askWhenFree(registration: ServiceWorkerRegistration): void {
  effect(() => {
    if (!updateWaits.value || inSession.value) logbook.answered("update");
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
    setInterval(() => void registration.update().catch(() => undefined), LOOK_AGAIN_MS);
  } catch {
    // no worker: Easelside works as long as the page stands open, and asks again when it is opened next
  }
}
