/** A control scribed with a knife's double line. Chosen: the outer line is heavy and a tick stands in it. */
import type { ComponentChildren } from "preact";
import { Tick } from "../drawings/Tick";
import { press } from "../wet_hands/press";
import "./scribed.css";

export interface ScribedProps {
  label: ComponentChildren;
  sub?: ComponentChildren;
  /** when given, the control is a toggle (aria-pressed) */
  chosen?: boolean | undefined;
  onTake: () => void;
  drawing?: ComponentChildren;
  /** where the drawing stands: at the left of the words (rows), above them (tiles), or after them */
  place?: "left" | "above" | "after" | undefined;
  wide?: boolean | undefined;
  /** light: on the dark bench edge; card: on a brown slip */
  tone?: "light" | "card" | undefined;
  disabled?: boolean | undefined;
  /** said in place of the words by a screen reader */
  name?: string | undefined;
  /** for the pedal's ring */
  ring?: string | undefined;
}

export function Scribed(p: ScribedProps) {
  const place = p.place ?? "left";
  const kind = [
    "scribed",
    `scribed-${place}`,
    p.wide && "scribed-wide",
    p.tone && `scribed-${p.tone}`,
    p.chosen && "scribed-chosen",
    !p.drawing && "scribed-plain",
    p.sub != null && "scribed-told",
  ];
  return (
    <button
      type="button"
      class={kind.filter(Boolean).join(" ")}
      aria-pressed={p.chosen}
      aria-label={p.name}
      disabled={p.disabled}
      data-ring={p.ring}
      {...press(p.onTake)}
    >
      {p.drawing && <span class="scribed-drawing">{p.drawing}</span>}
      <span class="scribed-words">
        <span class="scribed-label">{p.label}</span>
        {p.sub != null && <span class="scribed-sub">{p.sub}</span>}
      </span>
      {p.chosen && <Tick />}
    </button>
  );
}
