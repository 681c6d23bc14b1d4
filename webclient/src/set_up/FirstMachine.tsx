/** Which machine is it? Asked once, with one field; it can wait. */
import { useState } from "preact/hooks";
import { go } from "../route";
import { Page, TextField } from "../workshop";
import { newMachine } from "./state";
import * as words from "./words";

export function FirstMachine(p: { onKept: (machine: string) => void; onLater?: () => void }) {
  const [name, setName] = useState<string>(words.first_name);
  const later = p.onLater ?? (() => go("bench"));
  return (
    <Page
      title={words.first_title}
      bench
      next={{
        label: words.keep,
        sub: name.trim(),
        disabled: name.trim() === "",
        onTake: () => p.onKept(newMachine(name.trim())),
      }}
      extra={[{ label: words.later, onTake: later }]}
    >
      <TextField label={words.first_ask} value={name} onChange={setName} maxLength={80} />
      <p>{words.first_text}</p>
    </Page>
  );
}
