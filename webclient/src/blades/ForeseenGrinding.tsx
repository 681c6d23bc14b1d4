/** What goes to be ground now, what does it cost both ways, and are there blades enough meanwhile? */
import { go } from "../route";
import { Scribed } from "../workshop";
import type { Advice } from "./foreseen_grinding_rules";
import * as words from "./foreseen_words";

export interface GrindingForeseen {
  /** null: too few days at the bench yet */
  advice: Advice | null;
  /** Here and not blunt, the one in use among them; and all together. */
  keen: number;
  all: number;
  needed: number | null;
  sendings: number;
  days: number;
  /** Edges that went off here, and how many more are wanting before they speak for themselves. */
  ended: number;
  wanting: number;
  /** With the workshop's currency; null: not said. */
  money: (amount: number | null) => string | null;
}

const heads = (advice: Advice): string =>
  ({
    nothing: words.nothing,
    wait: words.wait_for(advice.wait_for),
    one: words.send_one(advice.send),
    box: words.send_box,
  })[advice.when];

export function ForeseenGrinding(p: { grinding: GrindingForeseen }) {
  const { advice, keen, all, needed, money } = p.grinding;
  if (advice === null || needed === null) return <p class="quiet">{words.no_work}</p>;
  return (
    <section class="stack">
      <p role="status">
        <strong>{heads(advice)}</strong>{" "}
        {advice.when !== "nothing" &&
          words.costs(advice.counted, money(advice.cost_one_by_one), money(advice.cost_box))}
      </p>
      <p>
        {[
          words.without(keen, advice.risk_now),
          advice.when === "wait" ? words.without_waiting(advice.risk_waiting) : "",
          words.needed(needed, all),
        ].join(" ")}
      </p>
      <p class="quiet">
        {words.grinding_from(p.grinding.sendings, p.grinding.days)}{" "}
        {words.life_from(p.grinding.ended, p.grinding.wanting)}
      </p>
      <Scribed wide label={words.grinding_why} onTake={() => go("evidence", "grinding", "workshop")} />
    </section>
  );
}
