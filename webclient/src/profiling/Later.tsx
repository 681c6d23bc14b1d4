/** What was done and not tapped? Yesterday's thirty in a few taps; every count and due date follows. */
import { useSignal } from "@preact/signals";
import { PiecesHeap } from "../drawings/PiecesHeap";
import { drawn } from "../drawings/wobble";
import { day as dayWords } from "../language/format";
import { usePedal } from "../wet_hands/pedal";
import { Choice, Page, Scribed, Select, Stepper, TextField } from "../workshop";
import { BladeInside } from "./BladeInside";
import { Figure } from "./Figure";
import * as L from "./later_words";
import type { Outcome } from "./model";
import { batchField, faults, faultWord, machines } from "./words";

export interface LaterChoice {
  id: string;
  label: string;
  sub: string;
  /** What the form begins with, and where that comes from. */
  pieces: number;
  from?: string | undefined;
  stage: string;
  machine: string | null;
}

export interface Later {
  /** "lot:<id>": a new one of that lot; "new": a new one. */
  batch: string | null;
  /** What is said of a new one. */
  label: string;
  lot: string;
  stage: string;
  machine: string | null;
  day: string;
  started: number;
  good: number;
  second: number;
  lostBy: Record<string, number>;
  bladeIn: string | null;
  atPiece: number;
}

export interface LaterProps {
  choices: readonly LaterChoice[];
  machines: readonly { value: string; label: string }[];
  /** What is wrong with a label, if anything is. */
  taken: (label: string) => string | undefined;
  stages: readonly { value: string; label: string }[];
  blades: readonly { value: string; label: string }[];
  days: { today: string; yesterday: string };
  start: { batch: string | null; day: string; stage: string | null };
  onWrite: (later: Later) => void;
}

const LIKELY_PIECES = [6, 12, 18, 20, 24, 25, 28, 30, 32, 36, 40, 48];
const LIKELY_FEW = [0, 1, 2, 3, 4, 5, 6, 8];

export function LaterForm(p: LaterProps) {
  const first = p.choices.find((one) => one.id === p.start.batch) ?? p.choices[0] ?? null;
  const batch = useSignal<string | null>(first?.id ?? null);
  const typed = useSignal<string | null>(null);
  const lot = useSignal("");
  const said_machine = useSignal<string | null>(null);
  const stage = useSignal(p.start.stage ?? first?.stage ?? "profiled");
  const day = useSignal(p.start.day);
  const pieces = useSignal(first?.pieces ?? 24);
  const lost = useSignal(0);
  const second = useSignal(0);
  const causes = useSignal<Record<string, number>>({});
  const why = useSignal(false);
  const blade = useSignal<string | null>(null);
  const bladeToo = useSignal(false);
  const atPiece = useSignal(1);
  const earlier = useSignal(false);
  const isEarlier = day.value !== p.days.today && day.value !== p.days.yesterday;
  usePedal({ main: null, ring: [] });
  const chosen = p.choices.find((one) => one.id === batch.value) ?? null;
  const good = Math.max(0, pieces.value - lost.value - second.value);
  const change = <T,>(of: { value: T }, value: T): void => {
    of.value = value;
  };
  const isNew = batch.value === "new";
  const label = typed.value ?? (isNew ? "" : (chosen?.label ?? ""));
  const machine = said_machine.value ?? chosen?.machine ?? null;
  const pick = (id: string): void => {
    const one = p.choices.find((choice) => choice.id === id);
    batch.value = id;
    typed.value = null;
    if (!one) return;
    pieces.value = one.pieces;
    if (!p.start.stage) stage.value = one.stage;
  };
  const said = Object.values(causes.value).reduce((sum, n) => sum + n, 0);
  const write = (): void => {
    const lostBy: Record<string, number> = {};
    for (const [code, n] of Object.entries(causes.value)) if (n > 0) lostBy[code] = n;
    const rest = lost.value - said;
    if (rest > 0) lostBy["not_said"] = rest;
    p.onWrite({
      batch: batch.value,
      label: label.trim(),
      lot: lot.value.trim(),
      stage: stage.value,
      machine,
      day: day.value,
      started: pieces.value,
      good,
      second: second.value,
      lostBy,
      bladeIn: bladeToo.value ? blade.value : null,
      atPiece: atPiece.value,
    });
  };
  const isToCome = day.value > p.days.today;
  const from = isToCome ? L.toCome : pieces.value === chosen?.pieces ? chosen.from : undefined;
  const heap: Outcome[] = [
    ...Array<Outcome>(drawn(good)).fill("good"),
    ...Array<Outcome>(drawn(second.value)).fill("second"),
    ...Array<Outcome>(drawn(lost.value)).fill("lost"),
  ];
  return (
    <Page
      title={L.title}
      next={{ label: L.write, sub: from, onTake: write, disabled: pieces.value === 0 || isToCome }}
    >
      <fieldset class="later-days" aria-label={L.whenLegend}>
        <Scribed
          label={L.yesterday}
          chosen={day.value === p.days.yesterday}
          onTake={() => change(day, p.days.yesterday)}
        />
        <Scribed
          label={L.today}
          chosen={day.value === p.days.today}
          onTake={() => change(day, p.days.today)}
        />
        <Scribed
          label={L.earlier}
          sub={isEarlier ? dayWords(day.value) : undefined}
          chosen={earlier.value || isEarlier}
          onTake={() => {
            earlier.value = !earlier.value;
          }}
        />
        {earlier.value && (
          <TextField
            label={L.earlierDay}
            type="date"
            value={day.value}
            wrong={isToCome ? L.toCome : undefined}
            onChange={(value) => {
              if (value) change(day, value);
            }}
          />
        )}
      </fieldset>
      {p.choices.length > 1 && (
        <fieldset class="later-batches" aria-label={L.what}>
          {p.choices.map((one) => (
            <Scribed
              key={one.id}
              label={one.label}
              sub={one.sub}
              chosen={one.id === batch.value}
              onTake={() => pick(one.id)}
            />
          ))}
        </fieldset>
      )}
      {(isNew || batch.value?.startsWith("lot:")) && (
        <TextField
          label={batchField}
          value={label}
          onChange={(value) => change(typed, value)}
          wrong={p.taken(label)}
          maxLength={40}
        />
      )}
      {isNew && (
        <TextField label={L.lot} value={lot.value} onChange={(value) => change(lot, value)} maxLength={40} />
      )}
      <Figure
        label={L.piecesAt(p.stages.find((one) => one.value === stage.value)?.label)}
        value={pieces.value}
        likely={LIKELY_PIECES}
        onChange={(value) => change(pieces, Math.max(value, lost.value + second.value))}
      />
      <Figure
        open
        label={L.lost}
        value={lost.value}
        likely={LIKELY_FEW}
        max={pieces.value - second.value}
        onChange={(value) => change(lost, value)}
      />
      <Figure
        label={L.second}
        value={second.value}
        likely={LIKELY_FEW}
        max={pieces.value - lost.value}
        onChange={(value) => change(second, value)}
      />
      <p class="later-good">
        <strong>{L.good(good)}</strong>
      </p>
      {pieces.value <= 60 && <PiecesHeap pieces={heap} />}
      <Select
        label={L.stage}
        value={stage.value}
        options={[...p.stages]}
        onChange={(value) => change(stage, value)}
      />
      {p.machines.length > 1 && stage.value === "profiled" && (
        <Choice
          legend={machines}
          tiles
          options={p.machines}
          value={machine}
          onChange={(id) => change(said_machine, id)}
        />
      )}
      {lost.value > 0 && (
        <Scribed
          wide
          label={L.whichWhy}
          sub={L.whichWhySub}
          chosen={why.value}
          onTake={() => {
            why.value = !why.value;
          }}
        />
      )}
      {why.value &&
        faults.map((code) => (
          <Stepper
            key={code}
            label={faultWord(code)}
            value={causes.value[code] ?? 0}
            max={(causes.value[code] ?? 0) + lost.value - said}
            onChange={(n) => {
              causes.value = { ...causes.value, [code]: n };
            }}
          />
        ))}
      {p.blades.length > 0 && stage.value === "profiled" && (
        <Scribed
          wide
          label={L.bladeToo}
          sub={L.bladeTooSub}
          chosen={bladeToo.value}
          onTake={() => {
            bladeToo.value = !bladeToo.value;
          }}
        />
      )}
      {bladeToo.value && (
        <BladeInside
          pieces={pieces.value}
          blades={p.blades}
          blade={blade.value}
          at={atPiece.value}
          onBlade={(id) => {
            blade.value = id;
          }}
          onAt={(n) => {
            atPiece.value = n;
          }}
        />
      )}
    </Page>
  );
}

/** It is written in: what now? */
export function Written(p: {
  pieces: number;
  onTakeBack: () => void;
  onMore: () => void;
  onDone: () => void;
  doneLabel: string;
}) {
  usePedal({ main: null, ring: [] });
  return (
    <Page
      title={L.written(p.pieces)}
      sub={L.writtenSub}
      next={{ label: p.doneLabel, onTake: p.onDone }}
      extra={[
        { label: L.takeBackAll, onTake: p.onTakeBack },
        { label: L.more, onTake: p.onMore },
      ]}
    >
      <span />
    </Page>
  );
}
