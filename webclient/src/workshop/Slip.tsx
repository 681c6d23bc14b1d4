/** A slip of brown card: its rows tick, and the drawing at a row's right opens it. */
import type { ComponentChildren } from "preact";
import { press } from "../wet_hands/press";
import { CheckBox } from "./fields";
import * as words from "./words";
import "./parts.css";

export function Slip(p: { title?: ComponentChildren; children: ComponentChildren }) {
  return (
    <div class="slip">
      <span class="slip-hole" aria-hidden="true" />
      {p.title != null && <h2 class="slip-title">{p.title}</h2>}
      <div>{p.children}</div>
    </div>
  );
}

export type RowState = "good" | "needs_work" | "not_looked" | null;

export function SlipRow(p: {
  label: string;
  sub?: ComponentChildren;
  state: RowState;
  /** the second line is at issue: red */
  alarm?: boolean | undefined;
  drawing?: ComponentChildren;
  /** how the row's state is said, e.g. "good" */
  said?: string | undefined;
  onTake: () => void;
  onOpen?: (() => void) | undefined;
  ring?: string | undefined;
}) {
  return (
    <div class="slip-row">
      <button
        type="button"
        class="slip-take"
        aria-pressed={p.state === "good"}
        data-ring={p.ring}
        {...press(p.onTake)}
      >
        {p.state === "needs_work" || p.state === "not_looked" ? (
          <span class="check-box" aria-hidden="true">
            <svg class="tick" viewBox="0 0 34 34" aria-hidden="true">
              <path
                d={p.state === "needs_work" ? "M17 6V20M17 25V29" : "M7 17H27"}
                stroke="currentColor"
                stroke-width="5"
                fill="none"
              />
            </svg>
          </span>
        ) : (
          <CheckBox on={p.state === "good"} />
        )}
        <span class="slip-words">
          <span class="slip-label">{p.label}</span>
          {p.sub != null && <span class={p.alarm ? "slip-sub slip-alarm" : "slip-sub"}>{p.sub}</span>}
          {p.said && <span class="heard">, {p.said}</span>}
        </span>
      </button>
      {p.onOpen ? (
        <button type="button" class="slip-open" aria-label={words.open(p.label)} {...press(p.onOpen)}>
          {p.drawing}
        </button>
      ) : (
        p.drawing && <span class="slip-open slip-still">{p.drawing}</span>
      )}
    </div>
  );
}
