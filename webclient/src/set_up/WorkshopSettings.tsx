/** What holds for the whole workshop: soaking habit, time zone, the order of the stages, money. */

import { number, parseNumber } from "../language/format";
import { stageDone } from "../language/stage_words";
import type { Values } from "../logbook/model";
import { go } from "../route";
import { Choice, KeptField, Page, Scribed, Select, Stepper } from "../workshop";
import * as w from "./machine_words";

export type SoakHabit = "warm" | "cold" | "overnight";
export type Stage = keyof typeof stageDone;

export interface WorkshopFacts {
  name: string | null;
  soak_habit: SoakHabit | null;
  soak_s: Readonly<Record<SoakHabit, number>>;
  inches: boolean;
  time_zone: string;
  zones: readonly string[];
  currency: string | null;
  currencies: readonly string[];
  grind_one: number | null;
  grind_box: number | null;
  grind_box_of: number;
  stages: readonly Stage[];
}

export function WorkshopSettings(p: { facts: WorkshopFacts; onChange: (values: Values) => void }) {
  const { facts, onChange } = p;
  const cost = (label: string, name: "grind_one" | "grind_box") => (
    <KeptField
      label={label}
      inputMode="decimal"
      value={facts[name] === null ? "" : number(facts[name])}
      sub={w.cost_sub}
      onKeep={(typed) => {
        const value = parseNumber(typed);
        if (typed === "" || value !== null) onChange({ [name]: value });
      }}
    />
  );
  const up = (stage: Stage): void => {
    const stages = [...facts.stages];
    const k = stages.indexOf(stage);
    if (k > 0) stages.splice(k - 1, 2, stage, stages[k - 1] as Stage);
    onChange({ stages });
  };
  return (
    <Page title={w.workshop} next={{ label: w.back, onTake: () => go("machine") }}>
      <KeptField
        label={w.workshop_name}
        value={facts.name ?? ""}
        onKeep={(name) => onChange({ name: name === "" ? null : name })}
      />
      <Choice
        tiles
        legend={w.soak_habit}
        value={facts.soak_habit}
        onChange={(soak_habit) => onChange({ soak_habit })}
        options={[
          { value: "warm", label: w.warm },
          { value: "cold", label: w.cold },
          { value: "overnight", label: w.overnight },
        ]}
      />
      <Stepper
        label={w.warm_s}
        unit={w.min}
        value={Math.round(facts.soak_s.warm / 60)}
        min={1}
        max={240}
        step={1}
        onChange={(min) => onChange({ soak_warm_s: min * 60 })}
      />
      <Stepper
        label={w.cold_s}
        unit={w.hours}
        value={facts.soak_s.cold / 3600}
        min={0.5}
        max={24}
        step={0.5}
        shown={(hours) => number(hours)}
        onChange={(hours) => onChange({ soak_cold_s: hours * 3600 })}
      />
      <Stepper
        label={w.overnight_s}
        unit={w.hours}
        value={facts.soak_s.overnight / 3600}
        min={1}
        max={48}
        step={0.5}
        shown={(hours) => number(hours)}
        onChange={(hours) => onChange({ soak_overnight_s: hours * 3600 })}
      />
      <section class="stack" aria-label={w.stages}>
        <h2>{w.stages}</h2>
        <p>{w.stages_sub}</p>
        {facts.stages.map((stage, k) => (
          <Scribed
            key={stage}
            wide
            label={`${number(k + 1)}. ${stageDone[stage]}`}
            sub={k === 0 ? undefined : w.move_up}
            disabled={k === 0}
            onTake={() => up(stage)}
          />
        ))}
      </section>
      <Select
        label={w.zone}
        value={facts.time_zone}
        options={facts.zones.map((value) => ({ value, label: value.replaceAll("_", " ") }))}
        onChange={(time_zone) => onChange({ time_zone })}
      />
      <Choice
        tiles
        legend={w.lengths}
        value={facts.inches ? "inch" : "mm"}
        onChange={(lengths) => onChange({ lengths })}
        options={[
          { value: "mm", label: w.millimetres },
          { value: "inch", label: w.inches },
        ]}
      />
      <Select
        label={w.currency}
        value={facts.currency ?? ""}
        options={["", ...facts.currencies].map((value) => ({
          value,
          label: value === "" ? w.currency_none : value,
        }))}
        onChange={(currency) => onChange({ currency: currency === "" ? null : currency })}
      />
      {cost(w.grind_one, "grind_one")}
      {cost(w.grind_box, "grind_box")}
      <Stepper
        label={w.grind_of}
        value={facts.grind_box_of}
        min={2}
        max={20}
        onChange={(grind_box_of) => onChange({ grind_box_of })}
      />
    </Page>
  );
}
