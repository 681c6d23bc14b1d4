/** How many? One less, the number, one more; a tap on the number lays out the likely ones, so that it is two taps and no keyboard. */
import { useSignal } from "@preact/signals";
import { number } from "../language/format";
import { press } from "../wet_hands/press";
import { Scribed, StepButton } from "../workshop";
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
  const open = useSignal(p.open === true);
  const put = (value: number): void => p.onChange(Math.max(0, Math.min(p.max ?? 9999, value)));
  return (
    <fieldset aria-label={p.label}>
      <div class="figure-line">
        <StepButton label={p.label} disabled={p.value <= 0} onTake={() => put(p.value - 1)} />
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
        <StepButton
          more
          label={p.label}
          disabled={p.value >= (p.max ?? 9999)}
          onTake={() => put(p.value + 1)}
        />
      </div>
      {open.value && (
        <Numbers
          label={p.label}
          value={p.value}
          likely={p.likely.filter((n) => n <= (p.max ?? n))}
          onTake={(value) => {
            put(value);
            open.value = p.open === true;
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
