/** On which day is this care due, with its range? */
import { sentence } from "../language/format";
import { go } from "../route";
import { Scribed } from "../workshop";
import type { Days, Outlook } from "./foreseen_rules";
import * as words from "./foreseen_words";

export interface DueForeseen {
  task: string;
  days: Days;
  by: Outlook["by"];
}

const isExact = ({ days }: DueForeseen): boolean => days.lower === days.upper;
/** The calendar ends the wait: it is due by then, however few pieces are cut. */
const isCapped = ({ days }: DueForeseen): boolean => days.lower < days.middle && days.middle === days.upper;
export const dueWords = (due: DueForeseen): string => {
  const { days } = due;
  if (isExact(due)) return words.on(days.middle);
  const capped = [words.by_day(days.middle), words.perhaps(days.lower)].join(", ");
  return words.due(isCapped(due) ? capped : words.about(days.middle, days.lower, days.upper));
};
/** Within a list, where the calendar's day stands already. */
const lineWords = (due: DueForeseen): string =>
  isCapped(due)
    ? words.perhaps(due.days.lower)
    : words.about(due.days.middle, due.days.lower, due.days.upper);

/** `line`: one line within a list. `moved`: `roughly` is the quiet day for a change of blade. */
export function ForeseenDue(p: {
  due: DueForeseen | null;
  roughly: string | null;
  moved: "before" | "after" | null;
  line?: boolean | undefined;
}) {
  const { due, moved, roughly } = p;
  if (p.line && moved !== null) return <span class="quiet">{words.moved[moved]}</span>;
  const change = moved && roughly && <p>{words.change[moved](roughly)}</p>;
  if (due === null)
    return change || (roughly === null ? null : <span class="quiet">{words.roughly(roughly)}</span>);
  if (p.line) return isExact(due) ? null : <span class="quiet">{lineWords(due)}</span>;
  return (
    <section class="stack">
      <p>{[sentence(dueWords(due)), ...(isCapped(due) ? [] : [words.by[due.by]])].join(", ")}.</p>
      {change}
      {!isExact(due) && <Scribed wide label={words.why} onTake={() => go("evidence", "due", due.task)} />}
    </section>
  );
}
