/** Which keys does a pedal press, and what does each stand for on which screen? Written down once, shown to the maker. */
import type { PedalKey } from "./rules";

/** Key names of the UI Events standard, as page-turning pedals send them; taken from the start. */
export const STARTING_KEYS: Readonly<Record<string, PedalKey>> = {
  " ": "take",
  Enter: "take",
  PageDown: "take",
  ArrowRight: "take",
  ArrowDown: "take",
  PageUp: "step",
  ArrowLeft: "step",
  ArrowUp: "step",
};

/** What a key does here: a learned key wins over the starting ones; null: not a pedal's key. */
export function keyStandsFor(key: string, learned: Readonly<Record<string, PedalKey>>): PedalKey | null {
  return learned[key] ?? STARTING_KEYS[key] ?? null;
}

/** What the maker has taught this phone: `device.keys`, read from a record; anything else in it is left out. */
export function learnedKeys(value: unknown): Record<string, PedalKey> {
  const learned: Record<string, PedalKey> = {};
  if (typeof value !== "object" || value === null || Array.isArray(value)) return learned;
  for (const [key, action] of Object.entries(value))
    if (action === "take" || action === "step") learned[key] = action;
  return learned;
}
