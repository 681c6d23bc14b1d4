/** Was that a finger, or water, a sleeve, a second finger? What a pedal's press does. */

/** One thing that a screen saw. `at` in ms, any zero; `x`, `y` in CSS px; `finger` tells touches apart. */
export interface TouchEventSeen {
  what: "down" | "move" | "up" | "cancel";
  finger: number;
  at: number;
  x: number;
  y: number;
}

/** Why a touch was not taken for a tap. */
export type Refusal = "too_short" | "too_long" | "moved" | "two_fingers" | "too_soon" | "taken_over";

export type Verdict = "tap" | Refusal;

export interface Guard {
  down: { finger: number; at: number; x: number; y: number; furthest_px: number } | null;
  fingers: number[];
  crowded: boolean;
  last_tap: number | null;
}

/** Starting values, by trial on wet glass; no source. */
export const SHORTEST_MS = 40;
export const LONGEST_MS = 1200;
export const FURTHEST_PX = 14;
export const BETWEEN_MS = 350;

/** What stands in the edge or rings is not taken sooner: a second tap was meant for what stood there before. */
export const NEW_MS = 800;

/** `since`: when it came to stand there, as written on the control; absent: it always did. Both in ms. */
export const isNew = (since: string | undefined, at: number): boolean => at - Number(since) < NEW_MS;

export const nothing_down: Guard = { down: null, fingers: [], crowded: false, last_tap: null };

/**
 * The guard after one more event; `verdict` stands only when the last finger of a touch has gone.
 * A touch that ever had two fingers on the glass is refused as a whole.
 */
export function guarded(guard: Guard, seen: TouchEventSeen): { guard: Guard; verdict: Verdict | null } {
  if (seen.what === "down") {
    const fingers = [...guard.fingers.filter((finger) => finger !== seen.finger), seen.finger];
    const first = fingers.length === 1;
    return {
      guard: {
        ...guard,
        fingers,
        crowded: !first || (guard.crowded && guard.fingers.length > 0),
        down: first ? { finger: seen.finger, at: seen.at, x: seen.x, y: seen.y, furthest_px: 0 } : guard.down,
      },
      verdict: null,
    };
  }
  const down = guard.down;
  if (down === null || !guard.fingers.includes(seen.finger)) return { guard, verdict: null };
  const furthest_px =
    seen.finger === down.finger
      ? Math.max(down.furthest_px, Math.hypot(seen.x - down.x, seen.y - down.y))
      : down.furthest_px;
  if (seen.what === "move") return { guard: { ...guard, down: { ...down, furthest_px } }, verdict: null };
  const fingers = guard.fingers.filter((finger) => finger !== seen.finger);
  if (fingers.length > 0) return { guard: { ...guard, fingers, crowded: true }, verdict: null };
  const verdict = judged(guard, seen, seen.what === "cancel", furthest_px);
  return {
    guard: {
      down: null,
      fingers: [],
      crowded: false,
      last_tap: verdict === "tap" ? seen.at : guard.last_tap,
    },
    verdict,
  };
}

function judged(guard: Guard, up: TouchEventSeen, taken_over: boolean, furthest_px: number): Verdict {
  const held_ms = up.at - (guard.down?.at ?? up.at);
  if (taken_over) return "taken_over";
  if (guard.crowded) return "two_fingers";
  if (furthest_px > FURTHEST_PX) return "moved";
  if (held_ms < SHORTEST_MS) return "too_short";
  if (held_ms > LONGEST_MS) return "too_long";
  if (guard.last_tap !== null && up.at - guard.last_tap < BETWEEN_MS) return "too_soon";
  return "tap";
}

/** What a key stands for: `take` is the right or only key, `step` the left one. */
export type PedalKey = "take" | "step";

/** How many keys the maker's pedal has; null: not said, both ways work. */
export type PedalKeys = "one" | "two" | null;

export interface Ring {
  open: { at_item: number; by: PedalKey } | null;
  last_take: number | null;
}

/**
 * What the screen does now. `main`: take what stands in the edge. `main_back`: take that off again.
 * `item`: take the ringed one. `ringed`: speak and outline it. `shut`: the ring has closed, nothing was taken.
 */
export type PedalDoes =
  | { does: "main" }
  | { does: "ringed"; item: number; main_back: boolean }
  | { does: "item"; item: number }
  | { does: "shut" }
  | { does: "nothing" };

/** Two presses this close open the ring; so long a rest takes what is ringed. LOOK, "Pedals". */
export const DOUBLE_MS = 600;
export const REST_MS = 3000;

/** With two keys a ring left open shuts by itself and takes nothing: the next Good must not land in it. */
export const LEFT_OPEN_MS = 8000;

export const ring_shut: Ring = { open: null, last_take: null };

/** A press at `at` ms, on a screen whose ring has `items` things in it. */
export function pressed(
  ring: Ring,
  key: PedalKey,
  at: number,
  items: number,
  keys: PedalKeys,
): { ring: Ring; out: PedalDoes } {
  if (ring.open !== null) {
    if (key === "take" && ring.open.by === "step") return taken(ring.open.at_item);
    const item = (ring.open.at_item + 1) % items;
    return {
      ring: { ...ring, open: { ...ring.open, at_item: item } },
      out: { does: "ringed", item, main_back: false },
    };
  }
  if (key === "step") {
    if (items === 0) return { ring, out: { does: "nothing" } };
    return {
      ring: { open: { at_item: 0, by: "step" }, last_take: null },
      out: { does: "ringed", item: 0, main_back: false },
    };
  }
  const twice = ring.last_take !== null && at - ring.last_take <= DOUBLE_MS;
  if (twice && items > 0 && keys !== "two")
    return {
      ring: { open: { at_item: 0, by: "take" }, last_take: null },
      out: { does: "ringed", item: 0, main_back: true },
    };
  return { ring: { open: null, last_take: at }, out: { does: "main" } };
}

/** No key for `rest_after_ms`: with one key the ringed thing is taken, with two the ring shuts. */
export function rested(ring: Ring): { ring: Ring; out: PedalDoes } {
  if (ring.open === null) return { ring, out: { does: "nothing" } };
  if (ring.open.by === "take") return taken(ring.open.at_item);
  return { ring: ring_shut, out: { does: "shut" } };
}

/** Milliseconds without a key after which `rested` applies; null while the ring is shut. */
export function restAfter_ms(ring: Ring): number | null {
  if (ring.open === null) return null;
  return ring.open.by === "take" ? REST_MS : LEFT_OPEN_MS;
}

function taken(item: number): { ring: Ring; out: PedalDoes } {
  return { ring: ring_shut, out: { does: "item", item } };
}
