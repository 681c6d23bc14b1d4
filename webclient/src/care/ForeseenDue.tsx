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
  change: { day: string; moved: "stays" | "before" | "after" } | null;
}

const isExact = ({ days }: DueForeseen): boolean => days.lower === days.upper;
export const dueWords = (due: DueForeseen): string => {
  const { days } = due;
  return isExact(due) ? words.on(days.middle) : words.about(days.middle, days.lower, days.upper);
};

/** `line`: one line within a list. */
export function ForeseenDue(p: {
  due: DueForeseen | null;
  roughly: string | null;
  line?: boolean | undefined;
}) {
  const { due } = p;
  if (due === null) return p.roughly === null ? null : <span class="quiet">{words.roughly(p.roughly)}</span>;
  if (p.line) return isExact(due) ? null : <span class="quiet">{dueWords(due)}</span>;
  const { change } = due;
  return (
    <section class="stack">
      <p>
        {sentence(dueWords(due))}, {words.by[due.by]}.
      </p>
      {change && change.moved !== "stays" && (
        <p>{change.moved === "before" ? words.change_before(change.day) : words.change_after(change.day)}</p>
      )}
      {!isExact(due) && <Scribed wide label={words.why} onTake={() => go("evidence", "due", due.task)} />}
    </section>
  );
}
