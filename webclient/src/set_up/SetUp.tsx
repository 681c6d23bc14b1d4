/** Is the machine as it was? One slip: on top what changed since last time, the rest in one row. */
import { useState } from "preact/hooks";
import { Pile } from "../drawings/Pile";
import { ProjectionMark } from "../drawings/Projection";
import { ScrewHead } from "../drawings/ScrewHead";
import {
  EdgeMark,
  LotGauge,
  OilDrop,
  PivotMark,
  SameRows,
  ScrapChip,
  TemplateCurve,
} from "../drawings/setup_marks";
import { day, dayOf, few, minutes, number, plural, weekday } from "../language/format";
import { lengthFigure } from "../language/length";
import { go } from "../route";
import { usePedal } from "../wet_hands/pedal";
import { Page, Scribed, Slip, SlipRow } from "../workshop";
import { manual } from "../workshop/caution_words";
import { ForeseenSlot } from "../workshop/foreseen_slot";
import type { Answer, Machine, Setting, Stop, What } from "./model";
import { rows } from "./row_words";
import { type OF_ROW, type Slip as SlipFacts, setSince, type Why } from "./rules";
import { type At, answer, takeOff } from "./state";
import * as words from "./words";
import { answer_words, mm, stopWords } from "./words";
import "./screen.css";

/** Everything that the set-up shows, joined from the other rooms. Days are instants or calendar days. */
export interface SetUpFacts {
  at: At;
  machine: Machine;
  others: readonly Machine[];
  blade: { id: string; label: string; pieces: number } | null;
  setting: Setting | null;
  /** Newest first. */
  settings: readonly Setting[];
  lot: { id: string; label: string; gouge_mm: number | null } | null;
  last: { at: string; gouge_mm: number | null } | null;
  in_water_min: number | null;
  /** ms */
  now: number;
  changed: ReadonlyMap<What, Why>;
  checks: Partial<Record<What, Answer>>;
  slip: SlipFacts;
}

const eighths = (stop: Stop | null): number => (stop?.way === "turns" ? stop.value * 8 : 0);

export function RowMark(p: { what: What; facts: SetUpFacts }) {
  const { facts } = p;
  switch (p.what) {
    case "edge":
      return <EdgeMark />;
    case "projection":
      return <ProjectionMark />;
    case "middle_stop":
      return <ScrewHead eighths={eighths(facts.setting?.middle_stop ?? null)} />;
    case "shoulder_stop":
      return <ScrewHead eighths={eighths(facts.setting?.shoulder_stop ?? null)} />;
    case "pivot":
      return facts.changed.get("pivot") === "oil_due" ? <OilDrop /> : <PivotMark />;
    case "template":
      return <TemplateCurve />;
    case "scrap":
      return <ScrapChip chip="thin" width={66} />;
    case "lot":
      return <LotGauge />;
    case "soaked":
      return <Pile n={3} wet={1} width={62} />;
  }
}

export function rowLabel(what: What, facts: SetUpFacts): string {
  if (what === "pivot" && facts.changed.get("pivot") === "oil_due") return words.oil;
  if (what === "lot" && facts.lot !== null) return words.lot(facts.lot.label);
  return rows[what].label;
}

export function rowSub(what: What, facts: SetUpFacts): string {
  const { setting, blade, lot, last } = facts;
  const on = (value: string, row: keyof typeof OF_ROW): string =>
    words.set_on(value, setOn(facts, setSince(row, facts.settings)));
  switch (what) {
    case "edge":
      if (blade === null) return words.no_blade;
      return facts.changed.get("edge") === "near_count"
        ? words.near(number(blade.pieces))
        : words.cut(blade.label, number(blade.pieces));
    case "projection":
      return setting?.projection_mm == null ? words.not_written : on(mm(setting.projection_mm), what);
    case "middle_stop":
      return setting?.middle_stop == null ? words.not_written : on(stopWords(setting.middle_stop), what);
    case "shoulder_stop":
      return setting?.shoulder_stop == null ? words.not_written : on(stopWords(setting.shoulder_stop), what);
    case "pivot":
      return facts.changed.get("pivot") === "oil_due" ? words.never_on_cane : rows.pivot.good_sub;
    case "template": {
      const name = setting?.template ?? facts.machine.template;
      return name === null ? rows.template.good_sub : words.template(name);
    }
    case "scrap":
      return words.scrap_sub;
    case "lot": {
      if (lot?.gouge_mm == null) return words.not_written;
      const was = last?.gouge_mm ?? null;
      return was === null || was === lot.gouge_mm
        ? mm(lot.gouge_mm)
        : words.gouge_was(lengthFigure(lot.gouge_mm), lengthFigure(was));
    }
    case "soaked":
      return facts.in_water_min === null ? rows.soaked.good_sub : words.in_water(minutes(facts.in_water_min));
  }
}

/** "Tue" within the week, else "2 Nov": a row has room for no more. */
const setOn = (facts: SetUpFacts, at: string): string =>
  isThisWeek(facts, at) ? weekday(at, "short") : day(at);
const isThisWeek = (facts: SetUpFacts, at: string): boolean => facts.now - Date.parse(at) < WEEK_MS;
const WEEK_MS = 6 * 86_400_000;

const reasons = (facts: SetUpFacts): string[] => [
  ...new Set([...facts.changed].map(([what, why]) => words.change(why, rows[what].short))),
];

export function SetUp(p: { facts: SetUpFacts }) {
  const { facts } = p;
  const { slip, checks } = facts;
  const [unfolded, setUnfolded] = useState(false);
  const lastDay =
    facts.last === null
      ? null
      : dayOf(facts.last.at) === dayOf(facts.now)
        ? words.earlier_today
        : words.on_day(isThisWeek(facts, facts.last.at) ? weekday(facts.last.at) : day(facts.last.at));
  const say = (what: What, as: Answer): void => void answer(facts.at, { [what]: as });
  const restGood = (): void => {
    answer(
      facts.at,
      Object.fromEntries(
        slip.rest.filter((what) => checks[what] === undefined).map((what) => [what, "good" as const]),
      ),
    );
    go("bench");
  };
  const next = nextThing(facts, lastDay, say, restGood);
  const on = slip.next !== null && slip.next !== "rest" ? slip.next : null;
  const { session } = facts.at;
  usePedal({
    // no onTakeOff: the press waits for a second one, for by then another row would be next
    main: { label: next.label, onTake: next.onTake },
    ring:
      on === null
        ? []
        : [
            { label: words.needs_work, onTake: () => go("set-up", on), ring: rowLabel(on, facts) },
            { label: words.not_looked, onTake: () => say(on, "not_looked"), ring: rowLabel(on, facts) },
          ],
  });
  const row = (what: What) => (
    <SlipRow
      key={what}
      label={rowLabel(what, facts)}
      sub={rowSub(what, facts)}
      state={checks[what] ?? null}
      alarm={facts.changed.get(what) === "near_count" || (what === "pivot" && facts.changed.has("pivot"))}
      said={checks[what] && answer_words[checks[what]]}
      drawing={<RowMark what={what} facts={facts} />}
      ring={rowLabel(what, facts)}
      onTake={() =>
        checks[what] === "good" && session !== null ? takeOff(session, what) : say(what, "good")
      }
      onOpen={() => go("set-up", what)}
    />
  );
  const room = facts.others.length > 0 ? `${words.room} ${facts.machine.name}` : words.room;
  const restDone = slip.rest.every((what) => checks[what] !== undefined);
  return (
    <Page title={room} quietTitle bench slip next={next}>
      <div class="columns set-up-room">
        <div class="stack">
          <ForeseenSlot of="going_off" with={{ machine: facts.machine.id }} />
          <Slip title={words.head(lastDay, reasons(facts), room)}>
            {slip.top.map(row)}
            {unfolded || slip.rest.length === 1
              ? slip.rest.map(row)
              : slip.rest.length > 0 && (
                  <SlipRow
                    label={slip.top.length === 0 ? words.all_of_it : words.others(few(slip.rest.length))}
                    sub={lastDay === null ? words.look_at_once : words.as_on(lastDay)}
                    state={restDone ? "good" : null}
                    said={restDone ? answer_words.good : undefined}
                    drawing={<SameRows n={slip.rest.length} />}
                    onTake={restGood}
                    onOpen={() => setUnfolded(true)}
                  />
                )}
          </Slip>
          {unfolded && <Scribed wide label={words.fold} onTake={() => setUnfolded(false)} />}
          {facts.blade === null && (
            <Scribed
              wide
              label={words.which_blade}
              sub={words.which_blade_sub}
              onTake={() => go("blade-change", facts.machine.id)}
            />
          )}
          {facts.others.map((other) => (
            <Scribed
              key={other.id}
              wide
              label={words.another_machine(other.name)}
              onTake={() => go("set-up", { machine: other.id })}
            />
          ))}
          <p class="quiet set-up-last">{manual}</p>
        </div>
        <NextLook facts={facts} what={on} />
      </div>
    </Page>
  );
}

/** On a laptop there is room to say what the next row wants looked at. */
function NextLook(p: { facts: SetUpFacts; what: What | null }) {
  const { facts, what } = p;
  if (what === null) return null;
  return (
    <aside class="next-look" aria-label={rowLabel(what, facts)}>
      <h2>{rowLabel(what, facts)}</h2>
      <p>{rows[what].look}</p>
      <p>
        <strong>{rows[what].tolerance}</strong>
      </p>
      <div class="mark-drawn">
        <RowMark what={what} facts={facts} />
      </div>
    </aside>
  );
}

function nextThing(
  facts: SetUpFacts,
  lastDay: string | null,
  say: (what: What, as: Answer) => void,
  restGood: () => void,
): { label: string; sub: string; onTake: () => void } {
  const { slip, checks } = facts;
  const open = words.to_tick(number(slip.open));
  if (slip.next === null) {
    const work = slip.top.filter((what) => checks[what] === "needs_work").length;
    const left = plural(work, { one: words.work_left(number(work)), other: words.work_left(number(work)) });
    return { label: words.to_bench, sub: work > 0 ? left : words.all_looked, onTake: () => go("bench") };
  }
  if (slip.next === "rest") {
    const label =
      slip.top.length === 0 && lastDay !== null ? words.all_good(lastDay) : words.rest_good(lastDay);
    return { label, sub: words.then_bench, onTake: restGood };
  }
  const what = slip.next;
  return { label: words.row_good(rowLabel(what, facts)), sub: open, onTake: () => say(what, "good") };
}
