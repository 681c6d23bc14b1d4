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
export const dueWords = (due: DueForeseen): string => {
  const { days } = due;
  return isExact(due) ? words.on(days.middle) : words.about(days.middle, days.lower, days.upper);
};

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
  if (p.line) return isExact(due) ? null : <span class="quiet">{dueWords(due)}</span>;
  return (
    <section class="stack">
      <p>
        {sentence(dueWords(due))}, {words.by[due.by]}.
      </p>
      {change}
      {!isExact(due) && <Scribed wide label={words.why} onTake={() => go("evidence", "due", due.task)} />}
    </section>
  );
}
