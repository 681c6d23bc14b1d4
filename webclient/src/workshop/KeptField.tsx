/** A field that is kept when the maker leaves it: one change for what was typed, not one for each letter. */
import { useEffect, useRef, useState } from "preact/hooks";
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
  const kept = useRef(p.value);
  useEffect(() => {
    kept.current = p.value;
    setDraft(p.value);
  }, [p.value]);
  const keep = (): void => {
    const said = draft.trim();
    if (said === kept.current) return;
    kept.current = said;
    p.onKeep(said);
  };
  // also when the screen goes while the field has the focus
  const latest = useRef(keep);
  latest.current = keep;
  useEffect(() => () => latest.current(), []);
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
