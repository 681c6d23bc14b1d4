/** What do the minutes of a lot rest on? Each piece, and the range that 9 in 10 keep to. */
import { number } from "../language/format";
import { Evidence } from "../workshop/evidence/Evidence";
import { Plot } from "../workshop/evidence/Plot";
import { minutesAhead, type PaceSaid } from "./foreseen_rules";
import * as words from "./foreseen_words";
import { median } from "./pace";

export function ForeseenPace(p: {
  label: string | null;
  said: PaceSaid;
  pieces: readonly { batch: string; minutes: number; age: number }[];
}) {
  const { said, pieces } = p;
  const { likely, low, high } = minutesAhead(said.pace, 0, 1);
  const batches = [...new Set(pieces.map(({ batch }) => batch))];
  return (
    <Evidence
      title={words.paceTitle(p.label)}
      answer={words.takesFresh(p.label, likely, low, high)}
      from={said.wanting > 0 ? words.asOthers(said.wanting) : words.restsOn(said.pieces, p.label)}
      chart={
        pieces.length > 0 && (
          <Plot
            name={words.paceChart}
            x={{ label: words.axisOrder, from: 1, to: Math.max(2, pieces.length) }}
            y={axisOf([...pieces.map(({ minutes }) => minutes), low, high])}
            marks={[
              {
                is: "band",
                at: pieces.map(({ age }, i) => {
                  const usual = minutesAhead(said.pace, age, 1);
                  return [i + 1, usual.low, usual.high];
                }),
              },
              { is: "points", at: pieces.map(({ minutes }, i) => [i + 1, minutes]) },
            ]}
          />
        )
      }
      table={{
        columns: [
          { head: words.columns.batch },
          { head: words.columns.pieces, figure: true },
          { head: words.columns.middle, figure: true },
          { head: words.columns.from, figure: true },
          { head: words.columns.to, figure: true },
        ],
        rows: batches.map((batch) => {
          const own = pieces.filter((piece) => piece.batch === batch).map(({ minutes }) => minutes);
          const sorted = own.toSorted((a, b) => a - b);
          const at = (part: number): string =>
            number(sorted[Math.min(sorted.length - 1, Math.floor(part * sorted.length))] ?? 0, 1);
          return [batch, number(own.length), number(median(own) ?? 0, 1), at(0.05), at(0.95)];
        }),
      }}
      how={words.howPace}
    >
      {said.slower && <p>{words.slower(p.label, said.slower.likely, said.slower.low, said.slower.high)}</p>}
    </Evidence>
  );
}

/** Whole minutes around all values; what lies far above the rest is drawn at the edge. */
export function axisOf(minutes: readonly number[]): { label: string; from: number; to: number } {
  const sorted = minutes.toSorted((a, b) => a - b);
  const usual = sorted[Math.floor(sorted.length * 0.98)] ?? 1;
  const most = Math.min(sorted.at(-1) ?? 1, usual * 1.5);
  return {
    label: words.axisMinutes,
    from: Math.max(0, Math.floor((sorted[0] ?? 0) * 0.9)),
    to: Math.ceil(most * 1.05),
  };
}
