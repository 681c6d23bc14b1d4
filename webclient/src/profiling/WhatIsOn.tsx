/** What is on the machine, and which machine? Asked when it first matters, with one field and "later". */
import { useSignal } from "@preact/signals";
import { go } from "../route";
import { usePedal } from "../wet_hands/pedal";
import { Check, Choice, Page, Scribed, TextField } from "../workshop";
import { ForeseenSlot } from "../workshop/foreseen_slot";
import type { OnBench } from "./on_bench";
import { countTurns } from "./state";
import * as words from "./words";

export interface Choosing {
  id: string;
  label: string;
  sub: string;
}

/** One question, one field, and later. */
export function AskOne(p: {
  title: string;
  sub: string;
  field: string;
  start: string;
  onKeep: (label: string) => void;
  onLater: () => void;
  choices?: readonly Choosing[];
  onChoose?: (id: string) => void;
  wrong?: (label: string) => string | undefined;
}) {
  const label = useSignal(p.start);
  const typed = label.value.trim();
  usePedal({ main: null, ring: [] });
  return (
    <Page
      title={p.title}
      sub={p.sub}
      bench
      next={
        typed
          ? { label: words.keep, sub: typed, onTake: () => p.onKeep(typed) }
          : { label: words.later, sub: words.laterSub, onTake: p.onLater }
      }
      extra={typed ? [{ label: words.later, onTake: p.onLater }] : []}
    >
      {p.choices?.map((one) => (
        <Scribed key={one.id} wide label={one.label} sub={one.sub} onTake={() => p.onChoose?.(one.id)} />
      ))}
      <TextField
        label={p.field}
        value={label.value}
        onChange={(value) => {
          label.value = value;
        }}
        wrong={p.wrong?.(typed)}
        maxLength={60}
      />
    </Page>
  );
}

export function WhatIsOn(p: {
  on: OnBench;
  batches: readonly Choosing[];
  machines: readonly Choosing[];
  onBatch: (id: string) => void;
  onMachine: (id: string) => void;
  onNewBatch: () => void;
  onNewMachine: () => void;
  /** Pieces of this session that were counted for another batch. */
  too: { label: string; onTake: () => void } | false | null;
  /** The session that was closed last, for a tap too early. */
  closed: { words: string; onAgain: () => void } | null;
}) {
  const { on } = p;
  usePedal({ main: null, ring: [] });
  const option = (one: Choosing) => ({ value: one.id, label: one.label, sub: one.sub });
  return (
    <Page
      title={words.onTitle}
      sub={on.title}
      bench
      next={{ label: words.back, sub: words.pieceNow(on.place, on.all), onTake: () => go("bench") }}
    >
      {p.batches.length > 0 && (
        <Choice
          legend={words.batchesOpen}
          options={p.batches.map(option)}
          value={on.facts.batch?.id ?? null}
          onChange={p.onBatch}
        />
      )}
      {p.too && <Scribed wide {...p.too} />}
      <Scribed wide label={words.newBatch} onTake={p.onNewBatch} />
      <ForeseenSlot of="at_bench" with={{ on }} />
      <ForeseenSlot of="measure" with={{}} />
      {p.machines.length > 1 && (
        <Choice
          legend={words.machines}
          options={p.machines.map(option)}
          value={on.facts.machine?.id ?? null}
          onChange={p.onMachine}
        />
      )}
      {p.machines.length === 0 && <Scribed wide label={words.anotherMachine} onTake={p.onNewMachine} />}
      {p.closed && <Scribed wide label={words.wind.again} sub={p.closed.words} onTake={p.closed.onAgain} />}
      <Check
        label={words.countTurns}
        sub={words.countTurnsSub}
        checked={on.countsTurns}
        onChange={(yes) => countTurns(on.session, yes)}
      />
    </Page>
  );
}
