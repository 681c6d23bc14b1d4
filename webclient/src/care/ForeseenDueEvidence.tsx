/** What speaks for the day on which care is due: the pace, and how likely each day is. */
import { day, number, sentence } from "../language/format";
import { addDays } from "../language/rules";
import { Evidence } from "../workshop/evidence/Evidence";
import { Plot } from "../workshop/evidence/Plot";
import { type DueForeseen, dueWords } from "./ForeseenDue";
import { type Awaited, chanceDueBy, perDay } from "./foreseen_rules";
import * as words from "./foreseen_words";

const TOLD = [5, 25, 50, 75, 95];
const POINTS = 60;

export function ForeseenDueEvidence(p: {
  name: string;
  due: DueForeseen;
  today: string;
  pieces: Awaited | null;
  sessions: Awaited | null;
  daysLeft: number | null;
  /** Days from today to the last one of the range. */
  upper: number;
}) {
  const { pieces, sessions, daysLeft } = p;
  const to = Math.max(3, Math.ceil(p.upper * 1.3));
  const by = (days: number): number => chanceDueBy(pieces, sessions, daysLeft, days) * 100;
  const at = Array.from({ length: POINTS + 1 }, (_, k): [number, number] => [
    (k * to) / POINTS,
    by((k * to) / POINTS),
  ]);
  const firstDay = (chance: number): number => {
    let days = 0;
    while (days < 36_500 && by(days) < chance) days += 1;
    return days;
  };
  return (
    <Evidence
      title={words.title(p.name)}
      answer={`${sentence(dueWords(p.due))}, ${words.by[p.due.by]}.`}
      from={restsOn(pieces, sessions)}
      chart={
        <Plot
          name={words.chart}
          x={{ label: words.x, from: 0, to, ticks: weeks(to), say: (days) => day(addDays(p.today, days)) }}
          y={{ label: words.y, from: 0, to: 122, ticks: [0, 25, 50, 75, 100] }}
          marks={[{ is: "line", at }]}
        />
      }
      table={{
        columns: [{ head: words.columns.chance }, { head: words.columns.day, figure: true }],
        rows: TOLD.map((chance) => [number(chance), day(addDays(p.today, firstDay(chance)))]),
      }}
      how={words.how}
    >
      <p>
        {[
          pieces ? words.left_pieces(number(pieces.left)) : "",
          sessions ? words.left_sessions(number(sessions.left)) : "",
          daysLeft === null ? "" : words.left_day(addDays(p.today, daysLeft)),
        ]
          .filter(Boolean)
          .join(" ")}
      </p>
    </Evidence>
  );
}

/** About four days that are named along the axis. */
function weeks(to: number): number[] {
  const step = Math.max(1, Math.ceil(to / 4));
  return Array.from({ length: Math.floor(to / step) + 1 }, (_, k) => k * step).filter((days) => days < to);
}

function restsOn(pieces: Awaited | null, sessions: Awaited | null): string {
  if (pieces?.pace)
    return words.pace_pieces(number(perDay(pieces.pace), 1), number(Math.round(pieces.pace.exposure_days)));
  if (sessions?.pace)
    return words.pace_sessions(
      number(perDay(sessions.pace), 2),
      number(Math.round(sessions.pace.exposure_days)),
    );
  return words.only_calendar;
}
