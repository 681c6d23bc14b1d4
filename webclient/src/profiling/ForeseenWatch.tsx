/** How does this edge cut, and by what is it watched? Each piece against what is usual, and the maker's own choices. */
import { number } from "../language/format";
import { Choice, Stepper } from "../workshop";
import { Evidence } from "../workshop/evidence/Evidence";
import { type Mark, Plot } from "../workshop/evidence/Plot";
import { type EdgeWatched, reasonsFor } from "./ForeseenGoingOff";
import { axisOf } from "./ForeseenPace";
import { NELSON, runRules, WESTERN } from "./foreseen_run_rules";
import type { Watch } from "./foreseen_watch_slip_rules";
import * as words from "./foreseen_words";
import type { Outcome } from "./model";
import { outcomeWords } from "./words";

export interface WatchedPiece {
  place: number;
  minutes: number | null;
  usual: number | null;
  off: number | null;
  outcome: Outcome;
}

const SHOWN = 60;
const WEIGHT = 0.2;
const GAP = 12;

export function ForeseenWatch(p: {
  name: string;
  machine: string;
  edge: EdgeWatched | null;
  watch: Watch | null;
  pieces: readonly WatchedPiece[];
  wanting: number | null;
  isKeener: boolean;
  onChange: (set: Record<string, string[] | boolean | number>) => void;
}) {
  const { edge, watch, pieces } = p;
  if (!edge || !watch)
    return (
      <Evidence
        title={words.watchTitle(p.name, null)}
        answer={words.watchWanting(p.wanting ?? 24)}
        from=""
        how={words.howWatch}
      />
    );
  const named = edge.found.named !== null;
  const ruled = watch.rules.length === 0 ? null : ruleSignal(watch, pieces);
  return (
    <Evidence
      title={words.watchTitle(p.name, edge.blade)}
      answer={named ? `${words.goingOff(edge.blade ?? "?")} ${words.lookAtIt}` : words.isWell(edge.blade)}
      from={words.watchFrom(edge.pieces, edge.onceIn)}
      chart={<Minutes pieces={pieces} watch={watch} onset={named ? edge.found.onset : null} />}
      table={{
        columns: [
          { head: words.columns.piece },
          { head: words.columns.minutes, figure: true },
          { head: words.columns.usual, figure: true },
          { head: words.columns.outcome },
        ],
        rows: pieces
          .slice(-SHOWN)
          .toReversed()
          .map((piece) => [
            number(piece.place),
            piece.minutes === null ? words.notCounted : number(piece.minutes, 1),
            piece.usual === null ? "" : number(piece.usual, 1),
            outcomeWords[piece.outcome].toLowerCase(),
          ]),
      }}
      how={words.howWatch}
    >
      {pieces.length === 0 && <p>{words.noPiece}</p>}
      {named && <p>{words.speaks(reasonsFor(edge))}</p>}
      {ruled !== null && <p>{words.ruleSays(ruled)}</p>}
      <Choice
        legend={words.hand}
        value={p.isKeener ? "keener" : "usual"}
        onChange={(value) => p.onChange({ watch_keener: value === "keener" })}
        options={[
          { value: "usual", label: words.usually, sub: words.usuallySub(watch.choices.usual) },
          { value: "keener", label: words.keener, sub: words.usuallySub(watch.choices.keener) },
        ]}
      />
      <Choice
        legend={words.alsoBy}
        value={
          watch.rules.length === 0 ? "none" : watch.rules[0]?.startsWith("nelson") ? "nelson" : "western"
        }
        onChange={(value) =>
          p.onChange({ watch_rules: value === "none" ? [] : [...(value === "nelson" ? NELSON : WESTERN)] })
        }
        options={[
          { value: "none", label: words.noRules, sub: words.noRulesSub },
          { value: "western", label: words.western, sub: words.westernSub },
          { value: "nelson", label: words.nelson, sub: words.nelsonSub },
        ]}
      />
      <Stepper
        label={words.goodStretch}
        value={watch.good}
        min={20}
        max={1000}
        step={10}
        onChange={(good_pieces) => p.onChange({ good_pieces })}
      />
    </Evidence>
  );
}

/** At which piece a chosen rule signals last; z by what pieces and sessions vary together. */
function ruleSignal(watch: Watch, pieces: readonly WatchedPiece[]): number | null {
  const spread = Math.hypot(watch.sigma, watch.tau);
  const told = pieces.filter(({ off }) => off !== null);
  const last = runRules(
    told.map(({ off }) => (off ?? 0) / spread),
    watch.rules,
  ).at(-1);
  return last === undefined ? null : (told[last - 1]?.place ?? null);
}

/** Where only totals were written up, the line has a gap. */
function inRuns(at: readonly [number, number][]): [number, number][][] {
  const runs: [number, number][][] = [];
  for (const one of at) {
    const run = runs.at(-1);
    if (run && one[0] - (run.at(-1)?.[0] ?? 0) <= GAP) run.push(one);
    else runs.push([one]);
  }
  return runs;
}

function Minutes(p: { pieces: readonly WatchedPiece[]; watch: Watch; onset: number | null }) {
  const told = p.pieces.filter((piece) => piece.minutes !== null && piece.usual !== null);
  if (told.length === 0) return null;
  const reach = Math.exp(3 * Math.hypot(p.watch.sigma, p.watch.tau));
  let mean = 0;
  const smooth = told.map(({ place, usual, off }): [number, number] => {
    mean = WEIGHT * (off ?? 0) + (1 - WEIGHT) * mean;
    return [place, (usual ?? 0) * Math.exp(mean)];
  });
  const at = (pieces: readonly WatchedPiece[]): [number, number][] =>
    pieces.map(({ place, minutes }) => [place, minutes ?? 0]);
  const marks: Mark[] = [
    { is: "band", at: told.map(({ place, usual }) => [place, (usual ?? 0) / reach, (usual ?? 0) * reach]) },
    ...inRuns(smooth).map((at): Mark => ({ is: "line", at })),
    { is: "points", at: at(told.filter(({ outcome }) => outcome !== "lost")) },
    { is: "points", at: at(told.filter(({ outcome }) => outcome === "lost")), shape: "cross", isRed: true },
    ...(p.onset === null ? [] : [{ is: "upright" as const, x: p.onset + 1, label: words.from(p.onset + 1) }]),
  ];
  return (
    <Plot
      name={words.watchChart}
      x={{ label: words.axisPieces, from: told[0]?.place ?? 0, to: Math.max(2, told.at(-1)?.place ?? 2) }}
      y={axisOf([...told.map(({ minutes }) => minutes ?? 0), ...smooth.map(([, y]) => y)])}
      marks={marks}
    />
  );
}
