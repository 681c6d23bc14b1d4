/** Does this phone get messages by push? Begun by a tap, needs the internet, and never waits for it for ever. */

import { hex } from "../logbook/ids";
import { sha256, utf8 } from "../logbook/sha256";

/** `elsewhere`: the workshop's switch is off; `unreached`: no internet, or no answer in time; `not_installed`: only from the home screen. */
export type Pushed =
  | "on"
  | "elsewhere"
  | "refused"
  | "missing"
  | "not_installed"
  | "unreached"
  | "no_service";

const WAIT_MS = 20_000;

/** What of the browser is used, so that tests can stand in for it. */
export interface PushMeans {
  fetch: typeof fetch;
  permission: (() => Promise<NotificationPermission>) | null;
  manager: (() => Promise<PushManager>) | null;
  /** false: a page in a browser that keeps push for what stands on the home screen */
  installed: boolean;
  wait_ms: number;
}

export function ownMeans(): PushMeans {
  const can = "serviceWorker" in navigator && "PushManager" in globalThis && "Notification" in globalThis;
  return {
    fetch: (...args) => fetch(...args),
    permission: can ? () => Notification.requestPermission() : null,
    manager: can ? async () => (await navigator.serviceWorker.ready).pushManager : null,
    installed: (navigator as { standalone?: boolean }).standalone !== false,
    wait_ms: WAIT_MS,
  };
}

/** The workshop's name for a subscription, as it makes it out of the service's address. */
export const nameOf = (endpoint: string): string => hex(sha256(utf8(endpoint))).slice(0, 32);

/** What this browser is subscribed to, by that name; null: nothing. */
export async function ownSubscription(means: PushMeans = ownMeans()): Promise<string | null> {
  const had = await (await means.manager?.())?.getSubscription();
  return had ? nameOf(had.endpoint) : null;
}

/** Gives this browser's subscription back, here and at the workshop. */
export async function unsubscribe(means: PushMeans = ownMeans()): Promise<boolean> {
  try {
    const had = await (await means.manager?.())?.getSubscription();
    if (!had) return true;
    const gone = await had.unsubscribe();
    // a workshop that is not reached now learns it from the service, at the next message
    await means
      .fetch(`/api/push/subscriptions/${nameOf(had.endpoint)}`, { method: "DELETE" })
      .catch(() => null);
    return gone;
  } catch {
    return false;
  }
}

/** The messages to try it out that stand on this device's screen. */
export async function trialsShown(): Promise<Notification[]> {
  const all = await (await navigator.serviceWorker.ready).getNotifications();
  return all.filter(({ tag }) => tag.startsWith("trial/"));
}

/** Subscribes this device, in the place of what it had. Call it from a tap: the permission is asked for. */
export async function subscribe(device: string, means: PushMeans = ownMeans()): Promise<Pushed> {
  if (means.permission === null || means.manager === null)
    return means.installed ? "missing" : "not_installed";
  if ((await means.permission()) !== "granted") return "refused";
  try {
    const key = await workshopKey(means);
    if (key === null) return "elsewhere";
    const manager = await means.manager();
    const had = await manager.getSubscription();
    if (had !== null && !isOf(had, key)) await had.unsubscribe();
    // with no internet the browser neither answers nor refuses
    const now = await inTime(
      manager.subscribe({ userVisibleOnly: true, applicationServerKey: key }),
      means.wait_ms,
    );
    if (now === null) return "unreached";
    const answer = await means.fetch("/api/push/subscriptions", {
      method: "POST",
      headers: { "content-type": "application/json" },
      body: JSON.stringify({ ...now.toJSON(), device }),
    });
    if (answer.ok) return "on";
    return answer.status === 422 ? "no_service" : answer.status === 409 ? "elsewhere" : "unreached";
  } catch {
    return "unreached";
  }
}

async function workshopKey(means: PushMeans): Promise<string | null> {
  const answer = await means.fetch("/api/push");
  const said: unknown = await answer.json();
  const key = typeof said === "object" && said !== null && "public_key" in said ? said.public_key : null;
  return typeof key === "string" ? key : null;
}

/** A subscription made for another workshop's key is refused by the push service. */
function isOf(subscription: PushSubscription, key: string): boolean {
  const own = subscription.options.applicationServerKey;
  if (own === null) return false;
  const letters = btoa(String.fromCharCode(...new Uint8Array(own)));
  return letters.replaceAll("+", "-").replaceAll("/", "_").replaceAll("=", "") === key;
}

async function inTime<T>(promise: Promise<T>, wait_ms: number): Promise<T | null> {
  let timer: ReturnType<typeof setTimeout> | undefined;
  const late = new Promise<null>((done) => {
    timer = setTimeout(() => done(null), wait_ms);
  });
  try {
    return await Promise.race([promise, late]);
  } finally {
    clearTimeout(timer);
  }
}
