/** How much is left in this edge, until when, and when is it looked at or changed? */
import { go } from "../route";
import { Scribed } from "../workshop";
import * as words from "./foreseen_words";

export interface EdgeForeseen {
  blade: string;
  label: string;
  pieces: number;
  /** lower, median, upper */
  left: readonly number[];
  lookAt: number;
  limit: number;
  ended: number;
  cutting: number;
  wanting: number;
  apart: "blade" | "machine" | null;
  today: string;
  /** In a machine: the days on which it is off, or none where nothing was cut for long. */
  fitted: boolean;
  ends: { lower: string; middle: string; upper: string } | null;
  change: { day: string; moved: "stays" | "before" | "after"; batch: string | null } | null;
}

export const untilWhen = (edge: EdgeForeseen): string | null =>
  edge.ends ? words.ends(edge.ends.lower, edge.ends.upper, edge.today) : edge.fitted ? words.no_pace : null;

/** `short`: on a screen that has another question. */
export function ForeseenEdge(p: { edge: EdgeForeseen; short?: boolean | undefined }) {
  const { edge } = p;
  const left = <strong>{words.left(edge.left)}</strong>;
  const from = words.from(edge.ended, edge.wanting, edge.apart);
  const isTime = edge.pieces >= edge.lookAt;
  const look = isTime ? words.look_now(edge.pieces) : words.look_at(edge.lookAt, edge.lookAt === edge.limit);
  if (p.short)
    return (
      <p>
        {left} {isTime && `${look} `}
        <span class="quiet">{from}</span>
      </p>
    );
  const until = untilWhen(edge);
  const change = changeWords(edge);
  return (
    <section class="stack">
      <p role="status">
        {left}
        {until && ` ${until}`}
      </p>
      <p>
        {look}
        {change && ` ${change}`}
      </p>
      <p class="quiet">{from}</p>
      <Scribed wide label={words.why} onTake={() => go("evidence", "edge", edge.blade)} />
    </section>
  );
}

function changeWords({ change }: EdgeForeseen): string | null {
  if (change === null) return null;
  if (change.moved === "stays" || change.batch === null) return words.change_on(change.day);
  return change.moved === "before"
    ? words.change_before(change.day, change.batch)
    : words.change_after(change.day, change.batch);
}
