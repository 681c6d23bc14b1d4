/** How long does this lot take here, and how sharp is the edge? In full, beside what is on. */
import { go } from "../route";
import { Scribed } from "../workshop";
import type { Ahead, PaceSaid, Sharpness } from "./foreseen_rules";
import * as words from "./foreseen_words";

export function ForeseenAtBench(p: {
  lot: string | null;
  label: string | null;
  machine: string | null;
  said: PaceSaid;
  /** fully counted pieces of today */
  today: number;
  one: Ahead;
  left: number | null;
  rest: Ahead | null;
  turns: [number, number, number] | null;
  sharp: Sharpness | null;
}) {
  const { said, one, rest, sharp } = p;
  return (
    <section class="stack">
      <p>
        <strong>{words.takes(p.label, one.likely, one.low, one.high)}</strong>{" "}
        {p.left !== null && rest && words.rest(p.left, rest.likely, rest.low, rest.high)}{" "}
        {p.turns && words.turns(...p.turns)}{" "}
        {said.wanting > 0 ? words.asOthers(said.wanting, p.today) : words.restsOn(said.pieces, p.label)}
      </p>
      {said.slower && <p>{words.slower(p.label, said.slower.likely, said.slower.low, said.slower.high)}</p>}
      {sharp && <p>{words.sharpness(sharp.index, sharp.low, sharp.high, sharp.others)}</p>}
      {p.lot && <Scribed wide label={words.whyPace} onTake={() => go("evidence", "pace", p.lot ?? "")} />}
      {p.machine && (
        <Scribed wide label={words.whyEdge} onTake={() => go("evidence", "watch", p.machine ?? "")} />
      )}
    </section>
  );
}
