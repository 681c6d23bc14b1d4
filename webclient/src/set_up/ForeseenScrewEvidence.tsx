/** What does a turn of this screw really do, and what did the pieces measure? */

import { day } from "../language/format";
import { lengthFigure, lengthSteps } from "../language/length";
import type { Value } from "../logbook/model";
import { num } from "../logbook/read";
import { slip } from "../logbook/slips";
import { logbook } from "../logbook/state";
import { Stepper } from "../workshop";
import { Evidence, NoEvidence } from "../workshop/evidence/Evidence";
import { type Mark, Plot } from "../workshop/evidence/Plot";
import { ScrewAdvice, screwNow } from "./ForeseenScrew";
import { effectOf, type Point, type ScrewEffect, type Usual, usualOf } from "./foreseen_rules";
import { giveThickness, readingsOf } from "./foreseen_state";
import * as words from "./foreseen_words";
import type { Machine } from "./model";

interface Seen {
  at: string;
  raised: number;
  changed: number;
  before: number;
  after: number;
  /** how often pieces differ so much where nothing was moved */
  byChance: number | null;
}

function seenOf(value: Value | undefined): Seen[] {
  return (Array.isArray(value) ? value : []).flatMap((line) => {
    if (!Array.isArray(line) || typeof line[0] !== "string") return [];
    const [raised = 0, changed = 0, before = 0, after = 0] = line.slice(1, 5).map(Number);
    const byChance = typeof line[5] === "number" ? line[5] : null;
    return [{ at: line[0], raised, changed, before, after, byChance }];
  });
}

export function ForeseenScrewEvidence(p: { machine: Machine; point: Point }) {
  const { machine, point } = p;
  const body = slip("screw", `${machine.id}/${point}`)?.body;
  const effect = effectOf(body);
  const seen = seenOf(body?.["seen"]);
  const readings = readingsOf(machine.id, point).slice(-60);
  if (readings.length === 0 && seen.length === 0) return <NoEvidence />;
  const usual = usualOf(body);
  const { wanted } = screwNow(machine, point);
  const give = num(logbook.row("machine", machine.id), `${point}_give_mm`);
  const wide = 1.645 * Math.sqrt(effect.covariance[0]);
  const round = (value: number): number => Math.round(value * 100) / 100;
  return (
    <Evidence
      title={words.title(point, machine.name)}
      answer={words.answer(
        round(effect.effect),
        round(Math.max(0, effect.effect - wide)),
        round(effect.effect + wide),
      )}
      from={words.from(effect.moves)}
      chart={seen.length > 0 && <Moves seen={seen} effect={effect} />}
      table={{
        columns: [
          { head: words.columns.day },
          { head: words.columns.raised, figure: true },
          { head: words.columns.changed, figure: true },
          { head: words.columns.measured, figure: true },
          { head: words.columns.byChance, figure: true },
        ],
        rows: seen.map((one) => [
          day(one.at),
          lengthFigure(one.raised, 3),
          lengthFigure(one.changed, 3),
          words.beforeAfter(one.before, one.after),
          words.often(one.byChance),
        ]),
      }}
      how={words.how}
    >
      <p>
        {words.lost(Math.max(0, effect.backlash_mm))} {words.lockNut(effect.creep_mm)}
      </p>
      {readings.length > 1 && (
        <Measured
          values={readings.map(({ value_mm }) => value_mm)}
          wanted={wanted}
          usual={usual}
          days={[day(readings[0]?.at ?? ""), day(readings.at(-1)?.at ?? "")]}
        />
      )}
      {usual && <p>{usualWords(usual, give)}</p>}
      {wanted !== null && (
        <Stepper
          {...lengthSteps()}
          label={words.give}
          value={give ?? 0}
          shown={(mm) => (mm === 0 ? words.notSaid : lengthFigure(mm, 2))}
          min={0}
          max={1}
          onChange={(mm) => giveThickness(machine.id, point, mm > 0 ? mm : null)}
        />
      )}
      <ScrewAdvice bare machine={machine} what={`${point}_stop`} />
    </Evidence>
  );
}

function usualWords(usual: Usual, give: number | null): string {
  if ("wanting" in usual) return words.usualMore(usual.wanting);
  const { pieces, wet, lower, upper, cp, cpk } = usual;
  const said = words.usually(pieces, wet, lower, upper);
  return give !== null && cp && cpk ? `${said} ${words.fits(give, cp, cpk)}` : said;
}

function Moves(p: { seen: readonly Seen[]; effect: ScrewEffect }) {
  const most =
    Math.max(0.05, ...p.seen.flatMap(({ raised, changed }) => [Math.abs(raised), Math.abs(changed)])) * 1.15;
  const along = [-most, most];
  const { effect, creep_mm } = p.effect;
  const marks: Mark[] = [
    { is: "line", isDashed: true, isThin: true, at: along.map((x): [number, number] => [x, x]) },
    { is: "line", at: along.map((x): [number, number] => [x, effect * x + creep_mm]) },
    {
      is: "points",
      shape: "ring",
      at: p.seen.map(({ raised, changed }): [number, number] => [raised, changed]),
    },
  ];
  const axis = { from: -most, to: most, say: (value: number) => lengthFigure(value) };
  return (
    <Plot
      name={words.chart}
      x={{ ...axis, label: words.raised() }}
      y={{ ...axis, label: words.changed() }}
      marks={marks}
    />
  );
}

function Measured(p: {
  values: readonly number[];
  wanted: number | null;
  usual: Usual | null;
  days: [string, string];
}) {
  const usual = p.usual && "pieces" in p.usual ? p.usual : null;
  const shown = [
    ...p.values,
    ...(p.wanted === null ? [] : [p.wanted]),
    ...(usual ? [usual.lower, usual.upper] : []),
  ];
  const [low, high] = [Math.min(...shown), Math.max(...shown)];
  const last = p.values.length;
  return (
    <Plot
      name={words.chartPieces}
      x={{
        label: "",
        from: 0.5,
        to: last + Math.max(0.5, last * 0.06),
        ticks: [1, last],
        say: (x) => (x === 1 ? p.days[0] : p.days[1]),
      }}
      y={{
        label: words.measuredAxis(),
        from: low - 0.02,
        to: high + 0.03,
        say: (value) => lengthFigure(value),
      }}
      marks={[
        ...(p.wanted === null ? [] : [{ is: "level" as const, y: p.wanted, label: words.wanted }]),
        ...(usual
          ? [
              { is: "level" as const, y: usual.lower, label: words.usualEnds.lower },
              { is: "level" as const, y: usual.upper, label: words.usualEnds.upper },
            ]
          : []),
        { is: "points", at: p.values.map((value, i): [number, number] => [i + 1, value]) },
      ]}
    />
  );
}
