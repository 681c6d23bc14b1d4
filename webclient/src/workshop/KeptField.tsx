/** A field that is kept when the maker leaves it: one change for what was typed, not one for each letter. */
import { useEffect, useState } from "preact/hooks";
import { TextField } from "./fields";

export function KeptField(p: {
  label: string;
  value: string;
  onKeep: (value: string) => void;
  sub?: string | undefined;
  wrong?: ((value: string) => string | undefined) | undefined;
  long?: boolean | undefined;
  inputMode?: "text" | "decimal" | "numeric" | undefined;
}) {
  const [draft, setDraft] = useState(p.value);
  useEffect(() => setDraft(p.value), [p.value]);
  const keep = (): void => {
    if (draft.trim() !== p.value) p.onKeep(draft.trim());
  };
  return (
    <div onFocusOut={keep}>
      <TextField
        label={p.label}
        value={draft}
        onChange={setDraft}
        sub={p.sub}
        wrong={p.wrong?.(draft.trim())}
        long={p.long}
        inputMode={p.inputMode}
        maxLength={p.long ? 2000 : 120}
      />
    </div>
  );
}
