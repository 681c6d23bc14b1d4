/** What comes next: one thing, in words, in the edge of the bench. */
import type { ComponentChildren } from "preact";
import { press } from "../wet_hands/press";
import "./edge.css";

export interface Next {
  label: ComponentChildren;
  sub?: ComponentChildren;
  onTake: () => void;
  disabled?: boolean | undefined;
  /** Good and Turned: across the whole edge, 188 high */
  big?: boolean | undefined;
  ring?: string | undefined;
}

export function NextThing(p: Next) {
  return (
    <button
      type="button"
      class={p.big ? "next next-big" : "next"}
      disabled={p.disabled}
      data-ring={p.ring}
      data-next
      {...press(p.onTake)}
    >
      <span class="next-label">{p.label}</span>
      {p.sub != null && <span class="next-sub">{p.sub}</span>}
    </button>
  );
}
