/** How many turns has this piece had? For those who count them: Turned is the big one. */
import { EaselBench } from "../drawings/EaselBench";
import { Tally } from "../drawings/Tally";
import { number } from "../language/format";
import { go } from "../route";
import { usePedal } from "../wet_hands/pedal";
import { press } from "../wet_hands/press";
import { Page, Scribed } from "../workshop";
import { OutcomeControl, useHands } from "./hands";
import type { OnBench } from "./on_bench";
import { cutting, usualTurns } from "./rules";
import { askedTwo, sayTurned, sayTwo } from "./state";
import * as words from "./words";

export function Turning(p: { on: OnBench }) {
  const { on } = p;
  const facts = on.facts;
  const hands = useHands(on, "above");
  const turned = (): void => sayTurned(facts);
  usePedal({
    main: { label: words.turned, onTake: turned, onTakeOff: hands.back },
    ring: [{ label: words.good, onTake: () => hands.good("pedal") }, ...hands.ring],
  });
  const usual = usualTurns(on.own);
  const half = usual ? (usual.from + usual.to) / 2 : undefined;
  const cut = cutting(on.turns, facts.machine?.turnHabit ?? "passes", half);
  return (
    <Page
      title={words.bench}
      quietTitle
      bench
      face="page-counts"
      next={{ label: words.turned, sub: words.turnedSub, onTake: turned, big: true }}
      extra={hands.stopAndBack}
    >
      <div class="bench bench-turning">
        <div class="bench-head bench-head-1">
          <p class="bench-count" aria-live="polite">
            <span class="bench-figure">{number(on.turns)}</span>
            <span class="bench-of">
              {" "}
              {words.turns(on.turns)}
              {usual && <small>{words.usual(usual.from, usual.to)}</small>}
            </span>
          </p>
          <button type="button" class="bench-facts bench-facts-right" {...press(() => go("bench", "on"))}>
            <strong>{words.pieceNow(on.place, on.all)}</strong>
            <span>{on.title}</span>
            <Tally n={on.turns} />
            <span class="heard">, {words.change}</span>
          </button>
        </div>
        <div class="bench-outcomes bench-outcomes-three">
          {hands.secondAndLost}
          {askedTwo.value ? (
            <Scribed label={words.two} sub={words.twoSub} onTake={() => sayTwo(facts)} />
          ) : (
            <OutcomeControl outcome="good" place="above" onTake={() => hands.good("hand")} />
          )}
        </div>
        <EaselBench
          number={on.place}
          numberWords={number(on.place)}
          turns={on.turns}
          left={cut.half === "first" ? cut.second : cut.first}
          right={cut.half === "first" ? cut.first : cut.second}
        />
        <p class="bench-half">
          {words.half[cut.half]}; {cut.onBark ? words.onBark : words.offBark}
        </p>
      </div>
    </Page>
  );
}
