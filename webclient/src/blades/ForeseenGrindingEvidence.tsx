/** What speaks for so many blades: how often one stands without, for each number of them. */
import { number } from "../language/format";
import { Evidence } from "../workshop/evidence/Evidence";
import { Plot } from "../workshop/evidence/Plot";
import { bladesNeeded, chanceWithout, type Demand, shareWithout } from "./foreseen_grinding_rules";
import * as words from "./foreseen_words";

const MOST_SHOWN = 8;
const RISK = 0.05;

export function ForeseenGrindingEvidence(p: {
  demand: Demand;
  sendings: number;
  ended: number;
  wanting: number;
  ahead: { lower: number; upper: number; days: number } | null;
}) {
  const { demand, ahead } = p;
  const counts = Array.from(
    { length: Math.max(MOST_SHOWN, bladesNeeded(demand, RISK) + 2) },
    (_, k) => k + 1,
  );
  const rows = counts.map((n) => ({ n, without: chanceWithout(n, demand), share: shareWithout(n, demand) }));
  return (
    <Evidence
      title={words.grinding_title}
      answer={words.grinding_answer(bladesNeeded(demand, RISK))}
      from={words.grinding_rests(demand.piecesPerEdge, demand.perDay, demand.days)}
      chart={
        <Plot
          name={words.grinding_chart}
          x={{ label: words.grinding_x, from: 0.5, to: counts.length + 0.5, ticks: counts }}
          y={{
            label: words.grinding_y,
            from: 0,
            to: Math.max(20, Math.ceil((rows[0]?.without ?? 0) * 10) * 10 + 10),
          }}
          marks={[
            { is: "level", y: RISK * 100, label: words.five },
            {
              is: "points",
              shape: "ring",
              at: rows.map(({ n, without }): [number, number] => [n, without * 100]),
            },
          ]}
        />
      }
      table={{
        columns: [
          { head: words.grinding_columns.blades },
          { head: words.grinding_columns.without, figure: true },
          { head: words.grinding_columns.days, figure: true },
        ],
        rows: rows.map(({ n, without, share }) => [
          number(n),
          number(without * 100, 1),
          number(share * 365, 1),
        ]),
      }}
      how={words.grinding_how}
    >
      {ahead && <p>{words.ahead(ahead.lower, ahead.upper, ahead.days)}</p>}
      <p>
        {words.grinding_from(p.sendings, demand.days)} {words.life_from(p.ended, p.wanting)}
      </p>
    </Evidence>
  );
}
