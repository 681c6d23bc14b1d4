/** Does the screen stay lit? Only while it is asked for, and only said while it is true. */
import { type ReadonlySignal, signal } from "@preact/signals";

export type Awake = "off" | "asked" | "held" | "refused" | "missing";

const state = signal<Awake>("off");
export const awake: ReadonlySignal<Awake> = state;

const reasons = new Set<string>();
let lock: WakeLockSentinel | null = null;
let asking = false;

/** Keeps the screen lit until every reason was let go. */
export function keepAwake(reason: string): void {
  reasons.add(reason);
  void hold();
}

export function letSleep(reason: string): void {
  reasons.delete(reason);
  if (reasons.size > 0) return;
  const held = lock;
  lock = null;
  state.value = "off";
  void held?.release();
}

async function hold(): Promise<void> {
  if (reasons.size === 0 || lock !== null || asking || document.visibilityState !== "visible") return;
  if (!("wakeLock" in navigator)) {
    state.value = "missing";
    return;
  }
  asking = true;
  state.value = "asked";
  try {
    const given = await navigator.wakeLock.request("screen");
    if (reasons.size === 0) {
      await given.release();
    } else {
      lock = given;
      state.value = "held";
      given.addEventListener("release", () => {
        if (lock !== given) return;
        lock = null;
        // a hidden page loses it; it is asked for again when the page is seen
        state.value = reasons.size > 0 ? "refused" : "off";
      });
    }
  } catch {
    state.value = reasons.size > 0 ? "refused" : "off";
  } finally {
    asking = false;
  }
}

if (typeof document !== "undefined") document.addEventListener("visibilitychange", () => void hold());
