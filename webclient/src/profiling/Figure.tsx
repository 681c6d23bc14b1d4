/** How many? One less, the number, one more; a tap on the number lays out the likely ones, so that it is two taps and no keyboard. */
import { useSignal } from "@preact/signals";
import { number } from "../language/format";
import { press } from "../wet_hands/press";
import { Scribed } from "../workshop";
import * as words from "./words";
import "./later.css";

export function Figure(p: {
  label: string;
  value: number;
  likely: readonly number[];
  max?: number | undefined;
  /** The likely ones lie there from the start, and stay. */
  open?: boolean;
  onChange: (value: number) => void;
}) {
  const open = useSignal(p.open);
  const put = (value: number): void => p.onChange(Math.max(0, Math.min(p.max ?? 9999, value)));
  return (
    <fieldset class="figure-row" aria-label={p.label}>
      <div class="figure-line">
        <button
          type="button"
          class="scribed stepper-button"
          aria-label={words.oneLess(p.label)}
          disabled={p.value <= 0}
          {...press(() => put(p.value - 1))}
        >
          <svg viewBox="0 0 36 36" width="36" aria-hidden="true">
            <path d="M0 18H36" stroke="currentColor" stroke-width="6" />
          </svg>
        </button>
        <button
          type="button"
          class="figure-value"
          aria-expanded={open.value}
          {...press(() => {
            open.value = !open.value;
          })}
        >
          <strong>{number(p.value)}</strong>
          <span>{p.label}</span>
        </button>
        <button
          type="button"
          class="scribed stepper-button"
          aria-label={words.oneMore(p.label)}
          disabled={p.value >= (p.max ?? 9999)}
          {...press(() => put(p.value + 1))}
        >
          <svg viewBox="0 0 36 36" width="36" aria-hidden="true">
            <path d="M0 18H36M18 0V36" stroke="currentColor" stroke-width="6" />
          </svg>
        </button>
      </div>
      {open.value && (
        <Numbers
          label={p.label}
          value={p.value}
          likely={p.likely.filter((n) => n <= (p.max ?? n))}
          onTake={(value) => {
            put(value);
            open.value = p.open;
          }}
        />
      )}
    </fieldset>
  );
}

/** Numbers side by side, each a target of its own. */
function Numbers(p: {
  label: string;
  value: number;
  likely: readonly number[];
  onTake: (value: number) => void;
}) {
  return (
    <fieldset class="numbers" aria-label={p.label}>
      {p.likely.map((value) => (
        <Scribed
          key={value}
          label={number(value)}
          name={`${number(value)} ${p.label}`}
          chosen={value === p.value}
          onTake={() => p.onTake(value)}
        />
      ))}
    </fieldset>
  );
}
