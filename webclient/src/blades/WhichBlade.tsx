/** Which blade goes in: one that lies ready, or one that is written down now. */
import { useState } from "preact/hooks";
import { number } from "../language/format";
import { Page, Scribed, TextField } from "../workshop";
import { EdgeCaution } from "../workshop/Cautions";
import type { BladeAt, ChangeDoes, ChangeFacts } from "./BladeChange";
import { taken } from "./state";
import * as words from "./words";

export const cutWords = (blade: BladeAt): string =>
  blade.pieces === 0 ? words.new_edge : words.cut_so_far(number(blade.pieces));

export function WhichIn(p: {
  facts: ChangeFacts;
  does: ChangeDoes;
  onPicked: (blade: string) => void;
  onNew: () => void;
  onBack: () => void;
}) {
  const { facts } = p;
  return (
    <Page
      title={words.which_in}
      sub={facts.machine.name}
      next={{
        label: words.back,
        sub: facts.out === null ? undefined : words.blade(facts.out.label),
        onTake: p.does.onLeave,
      }}
    >
      <div class="stack">
        {facts.ready.map((blade) => (
          <Scribed
            key={blade.id}
            wide
            label={words.blade(blade.label)}
            sub={cutWords(blade)}
            onTake={() => p.onPicked(blade.id)}
          />
        ))}
        <Scribed wide label={words.new_blade} sub={words.new_blade_sub} onTake={p.onNew} />
        {facts.out !== null && (
          <Scribed wide label={words.out_only} sub={words.blade(facts.out.label)} onTake={p.does.onTakeOut} />
        )}
      </div>
      <EdgeCaution />
    </Page>
  );
}

export function NewBlade(p: { facts: ChangeFacts; does: ChangeDoes; onPicked: (blade: string) => void }) {
  const [label, setLabel] = useState("");
  const name = label.trim();
  return (
    <Page
      title={words.new_blade}
      sub={p.facts.machine.name}
      next={{
        label: words.keep_new,
        sub: name,
        disabled: name === "",
        onTake: () => p.onPicked(p.does.onNewBlade(name)),
      }}
      extra={[{ label: p.facts.out === null ? words.later : words.back, onTake: p.does.onLeave }]}
    >
      {p.facts.ready.length === 0 && p.facts.out !== null && <p>{words.no_other}</p>}
      <TextField
        label={words.new_blade_label}
        sub={words.new_blade_sub}
        value={label}
        onChange={setLabel}
        wrong={taken(name)}
        maxLength={40}
      />
      <EdgeCaution />
    </Page>
  );
}
