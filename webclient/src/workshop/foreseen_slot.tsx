/** Where a screen leaves room for what is foreseen. Its script comes after the first screen; until then, nothing. */
import { signal } from "@preact/signals";
import { type FunctionComponent, h } from "preact";

export interface Foreseen {
  shown: Readonly<Record<string, FunctionComponent<object>>>;
  told: Readonly<Record<string, (facts: object) => unknown>>;
}

export const foreseen = signal<Foreseen | null>(null);

export function ForeseenSlot(p: { of: string; with: object }) {
  const Shown = foreseen.value?.shown[p.of];
  return Shown ? h(Shown, p.with) : null;
}
