/** What speaks for an edge's pieces left: the workshop's own edges as steps, the law as a curve. */
import { number } from "../language/format";
import { Evidence } from "../workshop/evidence/Evidence";
import { type Mark, Plot } from "../workshop/evidence/Plot";
import { type EdgeForeseen, untilWhen } from "./ForeseenEdge";
import { type Life, partRange, partThatLasts } from "./foreseen_rules";
import * as words from "./foreseen_words";

const POINTS = 48;
const HUNDRED = [0, 20, 40, 60, 80, 100];

/** `edge`: null for all edges together. `harder`: lots that wear an edge otherwise than the rest. */
export function ForeseenEdgeEvidence(p: {
  life: Life;
  edge: EdgeForeseen | null;
  harder: readonly { label: string; factor: number }[];
}) {
  const { life, edge, harder } = p;
  const answer = edge
    ? [words.left(edge.left), untilWhen(edge) ?? ""].join(" ")
    : words.all(life.scaleFrom, life.scaleTo);
  return (
    <Evidence
      title={words.title(edge?.label ?? null)}
      answer={answer}
      from={words.rests_on(life.ended, life.cutting)}
      chart={<Lasting life={life} edge={edge} />}
      table={
        life.steps.length === 0
          ? undefined
          : {
              columns: [
                { head: words.columns.pieces },
                { head: words.columns.of_hundred, figure: true },
                { head: words.columns.error, figure: true },
                { head: words.columns.edges, figure: true },
              ],
              rows: life.steps.map(([pieces, part, error, edges]) => [
                number(pieces),
                number(Math.round(part * 100)),
                number(Math.round(error * 100)),
                number(edges),
              ]),
            }
      }
      how={words.how}
    >
      <p>{words.from(life.ended, life.wanting, edge?.apart ?? null)}</p>
      {harder.length > 0 && (
        <p>{words.harder(harder.map((lot) => words.lot_factor(lot.label, lot.factor)))}</p>
      )}
    </Evidence>
  );
}

function Lasting({ life, edge }: { life: Life; edge: EdgeForeseen | null }) {
  const longest = Math.max(life.scaleTo * 1.3, edge?.pieces ?? 0, ...life.steps.map(([pieces]) => pieces));
  const to = Math.ceil(longest / 50) * 50;
  const at = Array.from({ length: POINTS + 1 }, (_, k) => (k * to) / POINTS);
  const marks: Mark[] = [
    {
      is: "band",
      at: at.map((x): [number, number, number] => {
        const [low, high] = partRange(life.laws, x);
        return [x, low * 100, high * 100];
      }),
    },
    {
      is: "line",
      isDashed: true,
      isThin: true,
      at: at.map((x): [number, number] => [x, partThatLasts(life.laws, x) * 100]),
    },
    ...(life.steps.length === 0
      ? []
      : [
          {
            is: "line" as const,
            isSteps: true,
            at: [[0, 100], ...life.steps.map(([x, part]) => [x, part * 100])] as [number, number][],
          },
        ]),
    ...(edge
      ? [
          { is: "upright" as const, x: edge.pieces, label: words.cut_now(edge.label) },
          { is: "upright" as const, x: edge.limit, label: words.limit },
        ]
      : []),
  ];
  return (
    <Plot
      name={words.chart}
      x={{ label: words.pieces, from: 0, to }}
      y={{ label: words.of_hundred, from: 0, to: 122, ticks: HUNDRED }}
      marks={marks}
    />
  );
}
