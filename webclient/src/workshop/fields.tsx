/** Words, a figure, one of many, yes or no: what a person writes in. */
import type { ComponentChildren } from "preact";
import { useId } from "preact/hooks";
import { Tick } from "../drawings/Tick";
import "./fields.css";

export function TextField(p: {
  label: string;
  value: string;
  onChange: (value: string) => void;
  inputMode?: "text" | "decimal" | "numeric" | undefined;
  sub?: ComponentChildren;
  /** several lines */
  long?: boolean | undefined;
  maxLength?: number | undefined;
  type?: "text" | "date" | "time" | "datetime-local" | undefined;
  /** what is wrong with it, in one sentence */
  wrong?: string | undefined;
}) {
  const id = useId();
  const told = p.wrong ?? p.sub;
  const shared = {
    id,
    class: "field-input",
    value: p.value,
    maxLength: p.maxLength,
    "aria-describedby": told == null ? undefined : `${id}-sub`,
    "aria-invalid": p.wrong ? true : undefined,
  };
  return (
    <div class="field">
      <label class="field-label" for={id}>
        {p.label}
      </label>
      {p.long ? (
        <textarea {...shared} rows={3} onInput={(e) => p.onChange(e.currentTarget.value)} />
      ) : (
        <input
          {...shared}
          type={(p.type ?? "text") as "text" /* Preact's types want to know which */}
          inputMode={p.inputMode}
          autocomplete="off"
          onInput={(e) => p.onChange(e.currentTarget.value)}
        />
      )}
      {told != null && (
        <span class={p.wrong ? "field-sub alarm" : "field-sub"} id={`${id}-sub`}>
          {told}
        </span>
      )}
    </div>
  );
}

export function Select<V extends string>(p: {
  label: string;
  value: V;
  options: readonly { value: V; label: string }[];
  onChange: (value: V) => void;
}) {
  const id = useId();
  return (
    <div class="field">
      <label class="field-label" for={id}>
        {p.label}
      </label>
      <select
        id={id}
        class="field-input"
        value={p.value}
        onChange={(e) => {
          const chosen = p.options.find((o) => o.value === e.currentTarget.value);
          if (chosen) p.onChange(chosen.value);
        }}
      >
        {p.options.map((o) => (
          <option key={o.value} value={o.value} selected={o.value === p.value}>
            {o.label}
          </option>
        ))}
      </select>
    </div>
  );
}

export function Check(p: {
  label: ComponentChildren;
  sub?: ComponentChildren;
  checked: boolean;
  onChange: (checked: boolean) => void;
}) {
  return (
    <label class="check">
      <input
        class="choice-input"
        type="checkbox"
        checked={p.checked}
        onChange={(e) => p.onChange(e.currentTarget.checked)}
      />
      <CheckBox on={p.checked} />
      <span class="check-words">
        <span class="check-label">{p.label}</span>
        {p.sub != null && <span class="check-sub">{p.sub}</span>}
      </span>
    </label>
  );
}

/** The scribed square by itself. */
export function CheckBox(p: { on: boolean }) {
  return (
    <span class="check-box" aria-hidden="true">
      {p.on && <Tick />}
    </span>
  );
}
