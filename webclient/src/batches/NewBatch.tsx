/** A new batch, a new lot: one field each, all else can wait. */
import { useSignal } from "@preact/signals";
import { Choice, Page, Scribed, Stepper, TextField } from "../workshop";
import { ForeseenSlot } from "../workshop/foreseen_slot";
import { COMES, type Comes, type Lot } from "./model";
import * as words from "./words";
import { comesWords } from "./words";
import "./screen.css";

export function NewBatch(p: {
  lots: readonly Lot[];
  labelFor: (lot: Lot | null) => string;
  taken: (label: string) => string | undefined;
  today: string;
  tomorrow: string;
  pieces: number;
  onKeep: (made: {
    label: string;
    lot: string | null;
    pieces: number;
    wanted_good: number | null;
    planned_day: string | null;
  }) => void;
  onBack: () => void;
}) {
  const lot = useSignal<string | null>(p.lots.at(-1)?.id ?? null);
  const lotNow = p.lots.find((one) => one.id === lot.value) ?? null;
  const typed = useSignal<string | null>(null);
  const pieces = useSignal(p.pieces);
  const wanted = useSignal<number | null>(null);
  const day = useSignal<string>(p.today);
  const label = typed.value ?? p.labelFor(lotNow);
  return (
    <Page
      title={words.newBatch}
      next={{
        label: words.keep,
        sub: label,
        disabled: !label.trim(),
        onTake: () =>
          p.onKeep({
            label: label.trim(),
            lot: lot.value,
            pieces: pieces.value,
            wanted_good: wanted.value || null,
            planned_day: day.value || null,
          }),
      }}
      extra={[{ label: words.back, onTake: p.onBack }]}
    >
      <TextField
        label={words.label}
        value={label}
        onChange={(value) => {
          typed.value = value;
        }}
        wrong={p.taken(label)}
        maxLength={40}
      />
      {p.lots.length > 0 && (
        <Choice
          legend={words.lotLegend}
          tiles
          value={lot.value ?? ""}
          onChange={(id) => {
            lot.value = id || null;
          }}
          options={[
            ...p.lots
              .slice(-5)
              .reverse()
              .map((one) => ({ value: one.id, label: one.label ?? "?" })),
            { value: "", label: words.noLot },
          ]}
        />
      )}
      <Stepper
        label={words.pieces}
        value={pieces.value}
        onChange={(value) => {
          pieces.value = value;
        }}
      />
      <ForeseenSlot
        of="start"
        with={{
          lot: lot.value,
          label: lotNow?.label ?? null,
          pieces: pieces.value,
          wanted: wanted.value,
          onWanted: (good: number) => {
            wanted.value = good;
          },
          onStart: (start: number) => {
            pieces.value = start;
          },
        }}
      />
      <DayPicker
        day={day.value}
        today={p.today}
        tomorrow={p.tomorrow}
        onDay={(value) => {
          day.value = value ?? "";
        }}
      />
    </Page>
  );
}

export function DayPicker(p: {
  day: string | null;
  today: string;
  tomorrow: string;
  onDay: (day: string | null) => void;
}) {
  return (
    <fieldset class="stack" aria-label={words.dayLegend}>
      <h2>{words.dayLegend}</h2>
      <div class="day-tiles">
        <Scribed label={words.today} chosen={p.day === p.today} onTake={() => p.onDay(p.today)} />
        <Scribed label={words.tomorrow} chosen={p.day === p.tomorrow} onTake={() => p.onDay(p.tomorrow)} />
        <Scribed label={words.noDay} chosen={!p.day} onTake={() => p.onDay(null)} />
      </div>
      <TextField
        label={words.otherDay}
        type="date"
        value={p.day ?? ""}
        onChange={(value) => p.onDay(value || null)}
      />
    </fieldset>
  );
}

export function NewLot(p: {
  lots: readonly Lot[];
  onOpen: (lot: string) => void;
  onKeep: (label: string, comes: Comes | null) => void;
  onLater: () => void;
}) {
  const label = useSignal("");
  const comes = useSignal<Comes | null>(null);
  const typed = label.value.trim();
  return (
    <Page
      title={words.newLot}
      next={
        typed
          ? { label: words.keep, sub: typed, onTake: () => p.onKeep(typed, comes.value) }
          : { label: words.later, sub: words.laterSub, onTake: p.onLater }
      }
      extra={typed ? [{ label: words.later, onTake: p.onLater }] : []}
    >
      <TextField
        label={words.lotLabel}
        value={label.value}
        onChange={(value) => {
          label.value = value;
        }}
        maxLength={40}
      />
      <Choice
        legend={words.comes}
        tiles
        options={COMES.map((one) => ({ value: one, label: comesWords[one] }))}
        value={comes.value}
        onChange={(value) => {
          comes.value = value;
        }}
      />
      {p.lots.length > 0 && (
        <section class="stack" aria-label={words.lotsSoFar}>
          <h2>{words.lotsSoFar}</h2>
          <div class="tiles">
            {[...p.lots].reverse().map((one) => (
              <Scribed
                key={one.id}
                label={one.label ?? "?"}
                name={words.openLot(one.label ?? "?")}
                onTake={() => p.onOpen(one.id)}
              />
            ))}
          </div>
        </section>
      )}
    </Page>
  );
}
