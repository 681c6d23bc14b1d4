/** What goes into the water? As last time is one tap; everything else stands below it. */
import type { ComponentChildren } from "preact";
import { Pile } from "../drawings/Pile";
import { Thermometer, WaterBand } from "../drawings/soak_marks";
import { number } from "../language/format";
import { Caution, Check, Choice, Page, Scribed, Select, Stepper } from "../workshop";
import { ForeseenSlot } from "../workshop/foreseen_slot";
import type { Draft, DraftFacts } from "./draft";
import { intoOf, optionsOf } from "./draft";
import { PURPOSES, WATERS } from "./model";
import { HOTTEST_C, marksOf, PRESET_C, type PutIn as PutInPlan } from "./rules";
import { whose } from "./standing";
import * as words from "./words";
import { purpose_words, water_words } from "./words";
import "./screen.css";

export interface PutInProps {
  sub: ComponentChildren;
  facts: DraftFacts;
  draft: Draft;
  onDraft: (draft: Draft) => void;
  onPutIn: () => void;
  onKeepHabit: () => void;
  /** "rings here" */
  rings: string;
  bell: ComponentChildren;
  aside: ComponentChildren;
  /** null: no jar stands in use */
  onBack: (() => void) | null;
  clock: ComponentChildren;
}

export function PutIn(p: PutInProps) {
  const { draft, facts } = p;
  const set = (part: Partial<Draft>): void => p.onDraft({ ...draft, ...part });
  const options = optionsOf(facts, draft);
  const into = intoOf(facts, draft);
  const byOf = (plan: PutInPlan): string => {
    const by = whose(plan.soak_s, plan.water, facts.habit, marksOf(facts.soaks, plan));
    return by === words.your_choice && draft.soak_s === null ? words.as_last_time : by;
  };
  const by = byOf(into);
  const ready = facts.now + into.soak_s * 1000;
  const lotLabel = (id: string | null): string | null =>
    facts.lots.find((lot) => lot.id === id)?.label ?? null;
  const hot = (into.water_c ?? 0) >= HOTTEST_C;
  return (
    <Page
      title={words.into}
      sub={p.sub}
      aside={p.aside}
      next={{
        label: words.put_in(into.pieces, into.run ? null : into.of_pieces),
        sub: hot ? words.hot_order : words.ready_sub(ready, p.rings),
        onTake: p.onPutIn,
        disabled: hot,
      }}
    >
      <div class="soak-halves wide">
        <div>
          {p.clock}
          {options.map((option) => (
            <Scribed
              key={option.choice}
              wide
              chosen={draft.choice === option.choice}
              onTake={() => set({ choice: option.choice })}
              drawing={<Pile n={option.of} wet={0} width="6.5rem" height={option.of > 8 ? 104 : 56} />}
              label={
                option.into.run
                  ? words.next_name(option.of)
                  : option.staggered
                    ? words.staggered(option.of)
                    : words.of_lot(option.of, lotLabel(option.into.lot))
              }
              sub={
                option.staggered ? (
                  <>
                    {words.stagger_line(option.into.pieces ?? 0, (option.into.every_s ?? 0) / 60)}
                    <br />
                    <strong>
                      {words.from_to(
                        facts.now + option.into.soak_s * 1000,
                        facts.now +
                          option.into.soak_s * 1000 +
                          (option.groups - 1) * (option.into.every_s ?? 0) * 1000,
                      )}
                    </strong>
                  </>
                ) : (
                  words.stands(option.into.soak_s, byOf(option.into))
                )
              }
            />
          ))}
          <Stepper
            label={
              draft.choice === "other" || options.length === 0
                ? words.of_what(lotLabel(into.lot))
                : words.other_number
            }
            value={draft.pieces}
            min={1}
            max={200}
            onChange={(pieces) => set({ pieces, choice: "other" })}
          />
          <WaterBand>
            <div class="water-now">
              <Thermometer c={into.water_c ?? PRESET_C[into.water]} width={36} />
              <p class="water-figure">
                <strong>{number(into.water_c ?? PRESET_C[into.water])} °C</strong>
                <span>
                  {water_words[into.water]}, {words.stands(into.soak_s, by)}
                </span>
              </p>
              <Check label={words.fresh} checked={draft.fresh} onChange={(fresh) => set({ fresh })} />
            </div>
            {hot ? (
              <Caution order={words.hot_order} text={words.hot_text} />
            ) : (
              <p class="water-caution">{words.keep_water}</p>
            )}
          </WaterBand>
          <ForeseenSlot
            of="put_in"
            with={{
              into,
              habit: facts.habit,
              soaks: facts.soaks,
              label: lotLabel(into.lot),
              fresh: draft.fresh,
              chosen_s: draft.soak_s,
              onSoak: (soak_s: number) => set({ soak_s, water: into.water, water_c: into.water_c }),
            }}
          />
        </div>
        <div>
          <Choice
            legend={words.water}
            tiles
            value={into.water}
            onChange={(water) => set({ water, water_c: PRESET_C[water], soak_s: null })}
            options={WATERS.map((water) => ({
              value: water,
              label: water_words[water],
              sub: water === "overnight" ? undefined : `${number(PRESET_C[water])} °C`,
            }))}
          />
          <Stepper
            label={words.water_c}
            value={into.water_c ?? PRESET_C[into.water]}
            min={1}
            max={99}
            onChange={(water_c) => set({ water: into.water, water_c, soak_s: into.soak_s })}
          />
          <Stepper
            label={words.time_in_water}
            unit={words.minutes_unit}
            value={Math.round(into.soak_s / 60)}
            min={5}
            max={2880}
            step={5}
            onChange={(min) => set({ soak_s: min * 60, water: into.water, water_c: into.water_c })}
          />
          {(by === words.as_last_time || by === words.your_choice) && (
            <Scribed wide label={words.keep_as_habit(into.soak_s, into.water)} onTake={p.onKeepHabit} />
          )}
          <Select
            label={words.what_for}
            value={into.purpose}
            options={PURPOSES.map((value) => ({ value, label: purpose_words[value] }))}
            onChange={(purpose) => set({ purpose, choice: into.run ? "other" : draft.choice })}
          />
          {facts.batches.length > 0 && (
            <Select
              label={words.batch}
              value={into.batch ?? ""}
              onChange={(batch) => set({ batch: batch === "" ? "none" : batch, choice: "other" })}
              options={[
                { value: "", label: words.no_batch },
                ...facts.batches.map((batch) => ({ value: batch.id, label: batch.label })),
              ]}
            />
          )}
          {facts.lots.length > 0 && (
            <Select
              label={words.which_lot}
              value={into.lot ?? ""}
              onChange={(lot) => set({ lot: lot === "" ? "none" : lot, choice: "other" })}
              options={[
                { value: "", label: words.no_lot },
                ...facts.lots.map((lot) => ({ value: lot.id, label: words.lot(lot.label) })),
              ]}
            />
          )}
          <Caution order={words.mould_order} text={words.mould_text} />
          {p.bell}
          {p.onBack && <Scribed wide label={words.back} onTake={p.onBack} />}
        </div>
      </div>
    </Page>
  );
}
