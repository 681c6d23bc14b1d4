/** Was that a finger that meant it? The handlers that every control wears. */
import { type Guard, guarded, isNew, nothing_down, type Verdict } from "./rules";

export interface PressHandlers {
  onClick: (event: MouseEvent) => void;
}

/** A mouse, a keyboard and a screen reader's click pass; a touch passes the drip guard, which watches the whole page. */
export function press(onTake: () => void): PressHandlers {
  return { onClick: () => onTake() };
}

let guard: Guard = nothing_down;
let last: { verdict: Verdict; at: number } | null = null;

/** A click follows its touch within this; one that comes later was made by something else. */
const CLICK_AFTER_MS = 700;

function sees(what: "down" | "move" | "up" | "cancel"): (event: PointerEvent) => void {
  return (event) => {
    if (event.pointerType !== "touch" || isByScreenReader(event)) return;
    const after = guarded(guard, {
      what,
      finger: event.pointerId,
      at: event.timeStamp,
      x: event.clientX,
      y: event.clientY,
    });
    guard = after.guard;
    if (after.verdict !== null) last = { verdict: after.verdict, at: event.timeStamp };
  };
}

/** Screen readers press with a touch that has no size. */
function isByScreenReader(event: PointerEvent): boolean {
  return event.width === 0 && event.height === 0;
}

function stopDrops(event: MouseEvent): void {
  const at = event.timeStamp;
  const verdict = last !== null && at - last.at <= CLICK_AFTER_MS ? last.verdict : null;
  const kind = "pointerType" in event ? (event as PointerEvent).pointerType : null;
  const byTouch = kind === "touch" || (kind === null && event.detail > 0 && verdict !== null);
  const drop = byTouch && verdict !== null && verdict !== "tap" && !isWrittenIn(event.target);
  // the second click of two, by a mouse as well
  const again = (byTouch || event.detail > 1) && isNew(since(event.target), performance.now());
  if (!drop && !again) return;
  event.preventDefault();
  event.stopImmediatePropagation();
}

function since(target: EventTarget | null): string | undefined {
  return target instanceof Element
    ? target.closest<HTMLElement>("[data-since]")?.dataset["since"]
    : undefined;
}

/** In a field a double tap picks a word: water there writes nothing. */
function isWrittenIn(target: EventTarget | null): boolean {
  if (target instanceof HTMLTextAreaElement || target instanceof HTMLSelectElement) return true;
  return (
    target instanceof HTMLInputElement &&
    !["radio", "checkbox", "button", "submit", "file"].includes(target.type)
  );
}

if (typeof window !== "undefined") {
  // On the window and before all others: a second finger counts wherever it lands, labels and links are guarded too.
  const first = { capture: true, passive: true };
  window.addEventListener("pointerdown", sees("down"), first);
  window.addEventListener("pointermove", sees("move"), first);
  window.addEventListener("pointerup", sees("up"), first);
  window.addEventListener("pointercancel", sees("cancel"), first);
  window.addEventListener("click", stopDrops, { capture: true });
}
