/** What speaks for the time in water: every mark of the lot, and the share that is ready by then. */
import { text } from "../logbook/read";
import { slip } from "../logbook/slips";
import { logbook } from "../logbook/state";
import { Evidence, NoEvidence } from "../workshop/evidence/Evidence";
import { type Mark, Plot } from "../workshop/evidence/Plot";
import { said } from "./ForeseenPutIn";
import { chances, effective_s, pointsOf, told as read, timeFor } from "./foreseen_rules";
import { ROOM_C } from "./foreseen_state";
import { chartMarks, toldOf } from "./foreseen_told_rules";
import * as words from "./foreseen_words";
import type { Mark as Found, Water } from "./model";
import { mark_words } from "./words";

export function ForeseenMarks(p: { subject: string }) {
  const found = slip("soak", p.subject);
  const poured_c = (found && read(found.body, "poured_c")) ?? ROOM_C;
  const label = text(logbook.row("lot", p.subject), "label");
  const told = toldOf([found], waterMost(found?.body["waters"]), poured_c, ROOM_C, null);
  if (!found || !told) return <NoEvidence />;
  const { body } = found;
  const points = pointsOf(body);
  return (
    <Evidence
      title={words.title(label)}
      answer={said(told, "warm", label)}
      from={words.from(told.marks.all, label)}
      chart={<Marks body={body} poured_c={poured_c} label={label} least={told.foreseen.best_s / 60} />}
      table={{
        columns: [
          { head: words.columns.minutes },
          { head: words.columns.water, figure: true },
          { head: words.columns.found },
          { head: words.columns.times, figure: true },
        ],
        rows: points.map(({ minutes, poured_c: c, mark, times }) => [
          minutes,
          c,
          mark_words[mark as Found] ?? mark,
          times,
        ]),
      }}
      how={words.how}
    >
      <p class="quiet">{words.legend_marks}</p>
    </Evidence>
  );
}

type Body = NonNullable<ReturnType<typeof slip>>["body"];

/** The water that most of the marks had. */
function waterMost(waters: Body[string] | undefined): Water {
  if (typeof waters !== "object" || waters === null || Array.isArray(waters)) return "warm";
  const most = Object.keys(waters).sort((a, b) => (read(waters, b) ?? 0) - (read(waters, a) ?? 0))[0];
  return (most as Water | undefined) ?? "warm";
}

/** `least`: minutes that the drawing reaches at least. */
function Marks(p: { body: Body; poured_c: number; label: string | null; least: number }) {
  const { body, poured_c, label } = p;
  const [at_c, energy] = [read(body, "at_c") ?? ROOM_C, read(body, "energy") ?? 0];
  const cooling_s = read(body, "cooling_s") ?? 1;
  const asUsual = (time_s: number, c: number): number =>
    c === poured_c
      ? time_s
      : timeFor(
          effective_s(time_s, { poured_c: c, room_c: ROOM_C, cooling_s }, at_c, energy),
          { poured_c, room_c: ROOM_C, cooling_s },
          at_c,
          energy,
        );
  const marks = chartMarks(body, asUsual);
  const most = 1.15 * Math.max(20, p.least, ...marks.map(({ minutes }) => minutes));
  const curve = Array.from({ length: 81 }, (_, i): [number, number] => {
    const minutes = (most * i) / 80;
    return [minutes, 100 * chances(body, minutes * 60, poured_c, ROOM_C).ready];
  });
  const of = (mark: Found): [number, number][] =>
    marks.filter((one) => one.mark === mark).map(({ minutes, height }) => [minutes, height]);
  const drawn: Mark[] = [
    { is: "line", at: curve },
    { is: "points", at: of("good"), shape: "ring" },
    { is: "points", at: of("still_hard"), shape: "cross" },
    { is: "points", at: of("too_soft"), shape: "cross", isRed: true },
  ];
  return (
    <Plot
      name={words.chart(label)}
      x={{ label: words.minutes_axis(poured_c), from: 0, to: most }}
      y={{ label: words.share_axis, from: -4, to: 108, ticks: [0, 25, 50, 75, 100] }}
      marks={drawn}
    />
  );
}
