/** One of several: radios that look scribed. */
import type { ComponentChildren } from "preact";
import { useId } from "preact/hooks";
import { Tick } from "../drawings/Tick";
import "./scribed.css";
import "./fields.css";

export interface Option<V extends string> {
  value: V;
  label: ComponentChildren;
  sub?: ComponentChildren;
  drawing?: ComponentChildren;
}

export function Choice<V extends string>(p: {
  legend: string;
  /** the legend is heard only, because the page says it already */
  quietLegend?: boolean | undefined;
  options: readonly Option<V>[];
  value: V | null;
  onChange: (value: V) => void;
  /** tiles side by side instead of rows */
  tiles?: boolean | undefined;
}) {
  const name = useId();
  return (
    <fieldset class="choice">
      <legend class={p.quietLegend ? "heard" : "field-label"}>{p.legend}</legend>
      <div class={!p.tiles ? "stack" : fitsThree(p.options) ? "thirds" : "tiles"}>
        {p.options.map((o) => {
          const on = o.value === p.value;
          const place = p.tiles ? "scribed-above" : "scribed-left scribed-wide";
          return (
            <label
              key={o.value}
              class={`scribed ${place} ${on ? "scribed-chosen" : ""} ${o.drawing ? "" : "scribed-wordy"}`}
            >
              <input
                class="choice-input"
                type="radio"
                name={name}
                value={o.value}
                checked={on}
                onChange={() => p.onChange(o.value)}
              />
              {o.drawing && <span class="scribed-drawing">{o.drawing}</span>}
              <span class="scribed-words">
                <span class="scribed-label">{o.label}</span>
                {o.sub != null && <span class="scribed-sub">{o.sub}</span>}
              </span>
              {on && <Tick />}
            </label>
          );
        })}
      </div>
    </fieldset>
  );
}

/** Three short words stand side by side; two and two would leave a hole. */
function fitsThree(options: readonly Option<string>[]): boolean {
  return options.length === 3 && options.every((o) => typeof o.label === "string" && o.label.length <= 9);
}
