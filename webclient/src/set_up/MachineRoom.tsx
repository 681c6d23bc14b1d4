/** How does the machine stand? Its screws, and every setting kept whole on its slip. */
import { useState } from "preact/hooks";
import { ScrewHead } from "../drawings/ScrewHead";
import { day } from "../language/format";
import { lengthFigure, lengthUnit } from "../language/length";
import { go } from "../route";
import { press } from "../wet_hands/press";
import { Page, Scribed, TextField } from "../workshop";
import { ManualFirst } from "../workshop/Cautions";
import * as w from "./machine_words";
import type { Machine, Setting, What } from "./model";
import { backTo, noteWhy, takeSettingBack } from "./state";
import { does_words, instrument_words, mm, stopWords } from "./words";
import "./screen.css";

export interface MachineFacts {
  machine: Machine;
  others: readonly Machine[];
  /** Newest first. */
  settings: readonly Setting[];
  /** What the change of blade undid. */
  undone: readonly What[];
  /** The blade in the machine. */
  blade: string | null;
  bladeLabel: (blade: string | null) => string | null;
}

export function MachineRoom(p: { facts: MachineFacts }) {
  const { machine, settings, others } = p.facts;
  const move = (): void => go("set-up", "middle_stop", "moved", { machine: machine.id });
  const stands = settings[0] ?? null;
  const next =
    stands === null
      ? { label: w.write_down, sub: w.write_down_sub, onTake: move }
      : stands.why === null
        ? { label: w.note_why, sub: w.note_why_sub, onTake: () => go("machine", machine.id, "why") }
        : { label: w.move, sub: w.move_sub, onTake: move };
  return (
    <Page
      title={machine.name}
      sub={w.does(does_words[machine.does], instrument_words[machine.instrument])}
      next={next}
    >
      <Stands machine={machine} setting={stands} undone={p.facts.undone} />
      <div class="columns rooms">
        <section class="stack">
          <h2>{w.kept}</h2>
          <SettingSlips facts={p.facts} />
        </section>
        <section class="stack">
          <Scribed
            wide
            label={w.screws}
            sub={machine.middle_thread ?? w.screws_none}
            onTake={() => go("machine", machine.id, "screws")}
          />
          <Scribed
            wide
            label={w.name_and_habits}
            sub={machine.turn_habit === "halves" ? w.turn_halves : w.turn_passes}
            onTake={() => go("machine", machine.id, "habits")}
          />
          <Scribed wide label={w.this_phone} sub={w.this_phone_sub} onTake={() => go("machine", "phone")} />
          <Scribed wide label={w.phones} sub={w.phones_sub} onTake={() => go("phones")} />
          <Scribed wide label={w.workshop} sub={w.workshop_sub} onTake={() => go("machine", "workshop")} />
          {others.map((other) => (
            <Scribed
              key={other.id}
              wide
              label={other.name}
              sub={w.does(does_words[other.does], instrument_words[other.instrument])}
              onTake={() => go("machine", other.id)}
            />
          ))}
          <Scribed wide label={w.new_machine} sub={w.new_machine_sub} onTake={() => go("machine", "new")} />
        </section>
      </div>
      <ManualFirst />
    </Page>
  );
}

function Stands(p: { machine: Machine; setting: Setting | null; undone: readonly What[] }) {
  const undone = (what: What) => p.undone.includes(what) && <span class="alarm">{w.undone}</span>;
  const stop = (what: "middle_stop" | "shoulder_stop", label: string, value = p.setting?.[what] ?? null) => (
    <div>
      <ScrewHead eighths={value?.way === "turns" ? value.value * 8 : 0} width={86} />
      <strong>{value?.way === "turns" ? w.turns_of(value.value) : stopWords(value)}</strong>
      <span>{label}</span>
      {undone(what)}
    </div>
  );
  const template = p.setting?.template ?? p.machine.template;
  return (
    <div class="stands">
      {stop("middle_stop", w.middle)}
      {stop("shoulder_stop", w.shoulder)}
      <div>
        <span class="figure-mm">
          {p.setting?.projection_mm == null ? "–" : lengthFigure(p.setting.projection_mm, 2)}
          <small>{lengthUnit()}</small>
        </span>
        <strong>{w.proud}</strong>
        {undone("projection")}
        {template !== null && (
          <span>
            {w.template.toLowerCase()} {template}
          </span>
        )}
      </div>
    </div>
  );
}

function SettingSlips(p: { facts: MachineFacts }) {
  const { settings, blade, bladeLabel } = p.facts;
  const [opened, setOpened] = useState<string | null>(null);
  const [made, setMade] = useState<string | null>(null);
  if (settings.length === 0) return <p>{w.none_kept}</p>;
  return (
    <div class="slips">
      {settings.map((setting, k) => {
        const isNow = k === 0;
        const on = day(setting.at);
        const reason = w.blade_why(bladeLabel(setting.blade), setting.why);
        const isOpen = isNow || opened === setting.id;
        return (
          <article key={setting.id} class="setting-slip">
            {isNow ? (
              <p class="setting-head">
                <span>{on}</span>
                <span>{w.now}</span>
              </p>
            ) : (
              <button
                type="button"
                class="setting-head slip-opener"
                aria-expanded={isOpen}
                {...press(() => setOpened(isOpen ? null : setting.id))}
              >
                <span>{on}</span>
                <span class="heard">{w.open_slip(on)}</span>
              </button>
            )}
            {reason !== "" && <p>{reason}</p>}
            {isOpen && <p>{valuesOf(setting)}</p>}
            {isNow && setting.id === made && (
              <Scribed wide tone="card" label={w.take_back} onTake={() => takeSettingBack(made)} />
            )}
            {isOpen && !isNow && (
              <Scribed
                wide
                tone="card"
                label={w.back_to}
                sub={setting.blade === blade ? undefined : w.of_other_blade}
                onTake={() => {
                  setMade(backTo(setting, blade, w.back_why(on)));
                  setOpened(null);
                  window.scrollTo(0, 0);
                }}
              />
            )}
          </article>
        );
      })}
    </div>
  );
}

const valuesOf = (setting: Setting): string =>
  w.values(
    setting.projection_mm === null ? null : mm(setting.projection_mm),
    setting.middle_stop === null ? null : stopWords(setting.middle_stop),
    setting.shoulder_stop === null ? null : stopWords(setting.shoulder_stop),
  );

export function WhyNoted(p: { facts: MachineFacts }) {
  const [why, setWhy] = useState("");
  const stands = p.facts.settings[0];
  const keep = (): void => {
    if (stands) noteWhy(stands.id, why.trim());
    go("machine", p.facts.machine.id);
  };
  return (
    <Page
      title={w.why}
      sub={stands && day(stands.at)}
      next={{ label: w.keep_why, onTake: keep, disabled: why.trim() === "" }}
      extra={[{ label: w.back, onTake: () => go("machine", p.facts.machine.id) }]}
    >
      <TextField label={w.why} value={why} onChange={setWhy} long maxLength={300} />
    </Page>
  );
}
