/** How many of this lot came out good, batch by batch, and is that less than of other lots? */
import type { Value } from "../logbook/model";
import { text } from "../logbook/read";
import { slip } from "../logbook/slips";
import { logbook } from "../logbook/state";
import { Evidence, NoEvidence } from "../workshop/evidence/Evidence";
import { type Mark, Plot } from "../workshop/evidence/Plot";
import { countsOf } from "./foreseen_rules";
import * as words from "./foreseen_words";

interface Line {
  label: string;
  day: string | null;
  good: number;
  tried: number;
}

const isLine = (value: Value): value is Value[] => Array.isArray(value);
const whole = (value: Value | undefined): number => (typeof value === "number" ? value : 0);

/** [label, day, good, tried] of a batch; [label, good, tried] of a lot. */
function linesOf(value: Value | undefined): Line[] {
  return (Array.isArray(value) ? value.filter(isLine) : [])
    .map((line) => ({
      label: String(line[0]),
      day: line.length > 3 && typeof line[1] === "string" ? line[1] : null,
      good: whole(line.at(-2)),
      tried: whole(line.at(-1)),
    }))
    .filter(({ tried }) => tried > 0);
}

const pairOf = (value: Value | undefined): [number, number] | null =>
  Array.isArray(value) && typeof value[0] === "number" && typeof value[1] === "number"
    ? [value[0], value[1]]
    : null;

export function ForeseenYields(p: { subject: string }) {
  const found = slip("yields", p.subject);
  if (!found) return <NoEvidence />;
  return p.subject === "all" ? <AllLots body={found.body} /> : <OneLot lot={p.subject} body={found.body} />;
}

function OneLot(p: { lot: string; body: { [name: string]: Value } }) {
  const label = text(logbook.row("lot", p.lot), "label") ?? "?";
  const { good, tried } = countsOf(p.body, "profiled");
  const lines = linesOf(p.body["batches"]);
  const range = pairOf(p.body["share"]);
  if (tried === 0 || range === null) return <NoEvidence />;
  const others = pairOf(p.body["others"]);
  const chance = p.body["by_chance"];
  const wanting = p.body["wanting"];
  return (
    <Evidence
      title={words.title(label)}
      answer={words.answer(good, tried, ...range)}
      from={words.fromBatches(lines.length)}
      chart={<Shares lines={lines} range={range} others={others && others[0] / others[1]} />}
      table={tableOf(lines, words.columns.batch)}
      how={words.how}
    >
      {others && typeof chance === "number" && <p>{words.against(...others, chance)}</p>}
      {typeof wanting === "number" && <p>{words.wanting(wanting)}</p>}
    </Evidence>
  );
}

function AllLots(p: { body: { [name: string]: Value } }) {
  const stages = p.body["stages"] as { profiled?: { share?: Value } } | undefined;
  const range = pairOf(stages?.profiled?.share);
  const lines = linesOf(p.body["lots"]).toReversed();
  if (range === null || lines.length === 0) return <NoEvidence />;
  return (
    <Evidence
      title={words.title(null)}
      answer={words.answerAll(...range)}
      from={words.fromAllLots(lines.length)}
      chart={<Shares lines={lines} range={range} others={null} />}
      table={tableOf(lines, words.columns.lot)}
      how={words.how}
    />
  );
}

const tableOf = (lines: readonly Line[], head: string) => ({
  columns: [
    { head },
    { head: words.columns.day },
    { head: words.columns.good, figure: true },
    { head: words.columns.tried, figure: true },
    { head: words.columns.share, figure: true },
  ],
  rows: lines.map((line) => [
    line.label,
    words.dayShort(line.day),
    line.good,
    line.tried,
    Math.round((line.good / line.tried) * 100),
  ]),
});

function Shares(p: { lines: readonly Line[]; range: [number, number]; others: number | null }) {
  const at = p.lines.map(({ good, tried }, i): [number, number] => [i + 1, (good / tried) * 100]);
  const [low, high] = [p.range[0] * 100, p.range[1] * 100];
  const lowest = Math.min(low, ...at.map(([, share]) => share));
  const end = p.lines.length + 0.5;
  const marks: Mark[] = [
    {
      is: "band",
      at: [
        [0.5, low, high],
        [end, low, high],
      ],
    },
    ...(p.others === null ? [] : [{ is: "level" as const, y: p.others * 100, label: words.others }]),
    { is: "points", at, shape: "ring" },
  ];
  return (
    <Plot
      name={words.chart}
      x={{
        label: "",
        from: 0.5,
        to: end,
        ticks: at.map(([x]) => x),
        say: (x) => p.lines[x - 1]?.label ?? "",
      }}
      y={{ label: words.ofHundred, from: Math.max(0, Math.floor((lowest - 5) / 10) * 10), to: 103 }}
      marks={marks}
    />
  );
}
