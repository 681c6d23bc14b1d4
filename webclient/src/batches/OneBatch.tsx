/** One batch: how it stands, what was written of it, and what can be changed. */
import { StageMark } from "../drawings/StageColumns";
import { day as dayWords, number, pieceCount } from "../language/format";
import { stageDone } from "../language/stage_words";
import type { Values } from "../logbook/model";
import type { Next } from "../workshop";
import { Choice, KeptField, Page, Scribed, Select, Stepper } from "../workshop";
import { ForeseenSlot } from "../workshop/foreseen_slot";
import { type Lot, STAGES, type Stage, type Tally } from "./model";
import { DayPicker } from "./NewBatch";
import { lostOf, stagesOf } from "./rules";
import { type Shown, standsAt } from "./Screen";
import * as words from "./words";
import "./screen.css";

export interface OneBatchProps {
  shown: Shown;
  lots: readonly Lot[];
  tallies: readonly Tally[];
  /** What was tapped, by day. */
  tapped: readonly { day: string; good: number; second: number; lost: number }[];
  workshopStages: readonly Stage[];
  today: string;
  tomorrow: string;
  next: Next;
  onTally: (stage: Stage) => void;
  onChange: (set: Values) => void;
  onStrike: (tally: string) => void;
  onLot: (lot: string) => void;
  onBack: () => void;
  /** what is wrong with a label for this batch */
  wrong: (label: string) => string | undefined;
}

export function OneBatch(p: OneBatchProps) {
  const { batch, lot, stands, label } = p.shown;
  const order = stagesOf(batch, p.workshopStages);
  const written = [
    ...p.tallies.map((tally) => ({
      key: tally.id,
      day: tally.day ?? tally.at ?? "",
      stage: tally.stage,
      line: words.numbers(tally.good, tally.second, lostOf(tally)),
      tally: tally.id,
    })),
    ...p.tapped.map((one) => ({
      key: one.day,
      day: one.day,
      stage: null,
      line: words.numbers(one.good, one.second, one.lost),
      tally: null,
    })),
  ].sort((a, b) => (a.day < b.day ? 1 : -1));
  const swap = (at: number, to: number): void => {
    const moved = [...order];
    const [one] = moved.splice(at, 1);
    if (one) moved.splice(to, 0, one);
    p.onChange({ stages: moved });
  };
  return (
    <Page
      title={words.batchTitle(label)}
      sub={[lot?.label ? `${words.lot} ${lot.label}` : words.noLot, standsAt(stands)].join(", ")}
      next={p.next}
      extra={[{ label: words.back, onTake: p.onBack }]}
    >
      <div class="tiles">
        {order.map((stage) => {
          const passed = stands.stages.find((one) => one.stage === stage)?.passed ?? null;
          const label = passed === null ? stageDone[stage] : `${number(passed)} ${stageDone[stage]}`;
          return (
            <Scribed
              key={stage}
              place="above"
              label={label}
              name={`${label}, ${words.tally}`}
              drawing={<StageMark stage={stage} width={72} />}
              onTake={() => p.onTally(stage)}
            />
          );
        })}
      </div>
      <section class="ruled" aria-label={words.history}>
        <h2>{words.history}</h2>
        {written.length === 0 && <p>{words.nothing}</p>}
        {written.map((one) => (
          <div class="written-line" key={one.key}>
            <p>
              <strong>{one.day ? dayWords(one.day) : ""}</strong>
              <br />
              {one.stage ? stageDone[one.stage] : words.tapped}: {one.line}
            </p>
            {one.tally && (
              <Scribed
                label={words.strike}
                name={`${words.strike}: ${one.line}`}
                onTake={() => {
                  if (one.tally) p.onStrike(one.tally);
                }}
              />
            )}
          </div>
        ))}
      </section>
      <KeptField
        label={words.label}
        value={batch.label ?? ""}
        wrong={p.wrong}
        onKeep={(label) => p.onChange({ label: label || null })}
      />
      <Select
        label={words.lot}
        value={batch.lot ?? ""}
        onChange={(id) => p.onChange({ lot: id || null })}
        options={[
          { value: "", label: words.noLot },
          ...p.lots.map((one) => ({ value: one.id, label: one.label ?? "?" })),
        ]}
      />
      {lot && (
        <Scribed
          wide
          label={words.openLot(lot.label ?? "?")}
          sub={words.openLotSub}
          onTake={() => p.onLot(lot.id)}
        />
      )}
      <Stepper label={words.pieces} value={batch.pieces ?? 0} onChange={(pieces) => p.onChange({ pieces })} />
      <Stepper
        label={words.wanted}
        value={batch.wantedGood ?? 0}
        onChange={(wanted) => p.onChange({ wanted_good: wanted || null })}
      />
      <ForeseenSlot
        of="start"
        with={{
          lot: batch.lot,
          label: lot?.label ?? null,
          pieces: batch.pieces,
          wanted: batch.wantedGood,
          done: stands.stages.find((one) => one.stage === "profiled")?.started,
          good: stands.good,
          onStart: (pieces: number) => p.onChange({ pieces }),
        }}
      />
      <DayPicker
        day={batch.plannedDay}
        today={p.today}
        tomorrow={p.tomorrow}
        onDay={(day) => p.onChange({ planned_day: day })}
      />
      <Choice
        legend={words.boughtAs}
        tiles
        value={batch.firstStage ?? ""}
        onChange={(stage) => p.onChange({ first_stage: stage || null })}
        options={[
          { value: "", label: words.asLot },
          ...STAGES.slice(0, 3).map((stage) => ({ value: stage, label: stageDone[stage] })),
        ]}
      />
      <fieldset class="stack" aria-label={words.stagesLegend}>
        <h2>{words.stagesLegend}</h2>
        {order.map((stage, at) => (
          <div class="stage-line" key={stage}>
            <StageMark stage={stage} />
            <strong>{stageDone[stage]}</strong>
            <Scribed
              label="↑"
              name={words.earlier(stageDone[stage])}
              disabled={at === 0}
              onTake={() => swap(at, at - 1)}
            />
            <Scribed
              label="↓"
              name={words.laterPlace(stageDone[stage])}
              disabled={at === order.length - 1}
              onTake={() => swap(at, at + 1)}
            />
          </div>
        ))}
        {batch.stages && (
          <Scribed wide label={words.asWorkshop} onTake={() => p.onChange({ stages: null })} />
        )}
      </fieldset>
      <KeptField
        long
        label={words.note}
        value={batch.note ?? ""}
        onKeep={(note) => p.onChange({ note: note || null })}
      />
      <Scribed
        wide
        label={batch.closed ? words.reopen : words.close}
        sub={batch.closed ? pieceCount(batch.pieces ?? 0) : words.closeSub}
        onTake={() => p.onChange({ closed: !batch.closed })}
      />
    </Page>
  );
}
