/** The label on a batch's bag. */
import type { ComponentChildren } from "preact";
import "./parts.css";

export function BagLabel(p: { label: ComponentChildren; day?: ComponentChildren }) {
  return (
    <span class="bag-label">
      <strong>{p.label}</strong>
      {p.day != null && <small>{p.day}</small>}
    </span>
  );
}
