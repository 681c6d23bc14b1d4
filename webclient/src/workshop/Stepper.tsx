/** How many? One less, the number, one more. The number can be typed as well. */
import { useId } from "preact/hooks";
import { number, parseNumber } from "../language/format";
import { press } from "../wet_hands/press";
import * as words from "./words";
import "./scribed.css";
import "./fields.css";

export function Stepper(p: {
  label: string;
  value: number;
  unit?: string | undefined;
  min?: number | undefined;
  max?: number | undefined;
  step?: number | undefined;
  onChange: (value: number) => void;
  /** how the value is written, and what was typed is read; absent: as a number by the locale */
  shown?: ((value: number) => string) | undefined;
  read?: ((typed: string) => number | null) | undefined;
}) {
  const id = useId();
  const step = p.step ?? 1;
  const min = p.min ?? 0;
  const max = p.max ?? 9999;
  const digits = Math.max(0, (String(step).split(".")[1] ?? "").length);
  const within = (value: number): number => Number(Math.min(max, Math.max(min, value)).toFixed(digits + 2));
  const shown = p.shown ?? ((value: number): string => number(value, digits));
  const read = p.read ?? ((typed: string): number | null => parseNumber(typed));
  const put = (value: number): void => {
    if (Number.isFinite(value) && within(value) !== p.value) p.onChange(within(value));
  };
  return (
    <fieldset class="stepper" aria-labelledby={id}>
      <StepButton label={p.label} disabled={p.value <= min} onTake={() => put(p.value - step)} />
      <span class="stepper-middle">
        <input
          class="stepper-value"
          inputMode="decimal"
          aria-labelledby={id}
          value={shown(p.value)}
          size={1}
          onChange={(e) => {
            const typed = read(e.currentTarget.value);
            if (typed != null) put(typed);
            e.currentTarget.value = shown(typed == null ? p.value : within(typed));
          }}
        />
        <span class="stepper-label" id={id}>
          {p.unit ? `${p.label}, ${p.unit}` : p.label}
        </span>
      </span>
      <StepButton more label={p.label} disabled={p.value >= max} onTake={() => put(p.value + step)} />
    </fieldset>
  );
}

/** One less, or one more. */
export function StepButton(p: { label: string; more?: boolean; disabled: boolean; onTake: () => void }) {
  return (
    <button
      type="button"
      class="scribed stepper-button"
      aria-label={(p.more ? words.more : words.less)(p.label)}
      disabled={p.disabled}
      {...press(p.onTake)}
    >
      <svg viewBox="0 0 36 36" width="36" aria-hidden="true">
        <path d={p.more ? "M0 18H36M18 0V36" : "M0 18H36"} stroke="currentColor" stroke-width="6" />
      </svg>
    </button>
  );
}
