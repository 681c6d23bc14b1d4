/** Several tabs, one store: who talks to the server now, and how do the others hear what has changed? */

export interface Told {
  /** records to read anew; null for all of them */
  touched: [string, string][] | null;
}

const LOCK = "easelside-exchange";

/** One exchange at a time across all tabs. Where there are no locks, repeats are harmless by rule. */
export async function alone<T>(work: () => Promise<T>): Promise<T> {
  if (typeof navigator === "undefined" || !("locks" in navigator)) return work();
  return navigator.locks.request(LOCK, work);
}

export interface Tabs {
  tell(told: Told): void;
  close(): void;
}

/** `hear` is called for what another tab told, never for one's own. */
export function otherTabs(hear: (told: Told) => void, name: string): Tabs {
  if (typeof BroadcastChannel === "undefined") return { tell: () => undefined, close: () => undefined };
  const channel = new BroadcastChannel(name);
  channel.onmessage = (event: MessageEvent<Told>) => hear(event.data);
  return { tell: (told) => channel.postMessage(told), close: () => channel.close() };
}
