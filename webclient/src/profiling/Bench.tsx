/** Which piece is on? One tap a piece: Good, and the next is there. */
import { useEffect, useMemo, useState } from "preact/hooks";
import { EaselBench } from "../drawings/EaselBench";
import { PiecesHeap } from "../drawings/PiecesHeap";
import { TallyLath } from "../drawings/Tally";
import { number } from "../language/format";
import { pieceId } from "../logbook/piece_id";
import { go } from "../route";
import { usePedal } from "../wet_hands/pedal";
import { press } from "../wet_hands/press";
import { Page, Scribed } from "../workshop";
import { foreseen } from "../workshop/foreseen_slot";
import { useHands, windDown } from "./hands";
import { isDone } from "./model";
import type { OnBench } from "./on_bench";
import { askedTwo, comeOff, outcomeOf, sayTwo } from "./state";
import * as words from "./words";
import { tallyLine } from "./words";

export function Bench(p: { on: OnBench }) {
  const { on } = p;
  const facts = on.facts;
  const hands = useHands(on, "after");
  const through = on.left === 0;
  const [lies, lay] = useState(on.place);
  const easel = useMemo(() => <EaselBench number={lies} numberWords={number(lies)} />, [lies]);
  const session = on.session?.id;
  useEffect(() => {
    lay(on.place); // the count says it first: the strip of cane comes on once that is painted
    if (session) pieceId(session, on.number); // the next tap finds it ready
  }, [on.place, session, on.number]);
  usePedal({
    main: through
      ? windDown
      : { label: words.good, onTake: () => hands.good("pedal"), onTakeOff: hands.back },
    ring: hands.ring,
  });
  const next = useMemo(
    () =>
      through
        ? windDown
        : { label: words.good, sub: words.goodSub, onTake: () => hands.good("hand"), big: true },
    [through],
  );
  const extra = through
    ? [{ label: words.oneMoreOn, onTake: () => void comeOff("good", facts) }, ...hands.stopAndBack.slice(1)]
    : hands.stopAndBack;
  return (
    <Page
      title={words.bench}
      quietTitle
      bench
      face={through ? "page-counts page-through" : "page-counts"}
      next={next}
      extra={extra}
    >
      <div class="bench">
        <BenchHead on={on} figure={through ? on.done : on.place} />
        {askedTwo.value ? <TwoPieces onTwo={() => sayTwo(facts)} /> : <DoneLath on={on} />}
        <div class="bench-outcomes">{hands.secondAndLost}</div>
        {through ? (
          <PiecesHeap
            pieces={on.own
              .filter((piece) => isDone(piece) && piece.batch === (facts.batch?.id ?? null))
              .map(outcomeOf)}
            abreast={Math.max(4, Math.ceil(on.counts.all / 6))}
          />
        ) : (
          easel
        )}
      </div>
    </Page>
  );
}

/** The figure that is the answer, and beside it what goes with it. The right half leads to what is on. */
export function BenchHead(p: { on: OnBench; figure: number }) {
  const { on } = p;
  const wide = number(p.figure).length;
  const all = on.all === null ? null : words.ofAll(on.all);
  return (
    <div class={`bench-head bench-head-${Math.min(3, wide)}`}>
      <p class="bench-count" aria-live="polite">
        <span class="bench-figure">{number(p.figure)}</span>
        {all && <span class="bench-of"> {all}</span>}
      </p>
      <button
        type="button"
        class={`bench-facts ${on.facts.machine?.name ? "bench-named" : ""}`}
        {...press(() => go("bench", "on"))}
      >
        <strong>{on.title}</strong>
        {((foreseen.value?.told["bench"]?.(on) as OnBench["lines"] | null) ?? on.lines).map((line) => (
          <span key={line.what} class={`bench-${line.what}`}>
            {line.words}
          </span>
        ))}
        <span class="heard">, {words.change}</span>
      </button>
    </div>
  );
}

/** The tally is drawn on a lath; a tap on it opens the last ten. */
export function DoneLath(p: { on: OnBench }) {
  const line = tallyLine(p.on.counts);
  return (
    <button
      type="button"
      class="lath-button"
      aria-label={words.putRightOpen(line)}
      {...press(() => go("bench", "right"))}
    >
      <TallyLath n={p.on.counts.all} label={line} />
    </button>
  );
}

function TwoPieces(p: { onTwo: () => void }) {
  return (
    <div class="two-pieces" role="status">
      <svg viewBox="0 0 40 66" width="34" aria-hidden="true">
        <path
          d="M20 2C36 28 42 36 35 48A18 18 0 0 1 5 48C-2 36 4 28 20 2"
          fill="var(--drop)"
          stroke="var(--outline)"
          stroke-width="3"
        />
      </svg>
      <p>
        <strong>{words.twoAsk}</strong>
        <span>{words.twoSub}</span>
      </p>
      <Scribed label={words.two} onTake={p.onTwo} />
    </div>
  );
}
