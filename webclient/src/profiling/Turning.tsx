/** How many turns has this piece had? For those who count them: Turned is the big one. */
import { EaselBench } from "../drawings/EaselBench";
import { OutcomeShape } from "../drawings/OutcomeShape";
import { Tally } from "../drawings/Tally";
import { number } from "../language/format";
import { go } from "../route";
import { usePedal } from "../wet_hands/pedal";
import { press } from "../wet_hands/press";
import { Page, Scribed } from "../workshop";
import type { OnBench } from "./on_bench";
import { pause } from "./session_orders";
import { askedTwo, comeOff, sayGood, sayLost, sayTurned, sayTwo, takeBack } from "./state";
import * as words from "./words";

export function Turning(p: { on: OnBench }) {
  const { on } = p;
  const facts = on.facts;
  const good = (by: "hand" | "pedal"): void => void sayGood(facts, by);
  const back = (): void => takeBack(on.own);
  const second = (): void => void comeOff("second", facts);
  const lost = (): void => sayLost(facts, on.place);
  const turned = (): void => sayTurned(facts);
  const stop = (): void => pause(on.session);
  usePedal({
    main: { label: words.turned, onTake: turned, onTakeOff: back },
    ring: [
      { label: words.good, onTake: () => good("pedal") },
      { label: words.second, onTake: second },
      { label: words.lost, onTake: lost },
      { label: words.takeBack, onTake: back },
      { label: words.pause, onTake: stop },
    ],
  });
  const { cutting } = on;
  return (
    <Page
      title={words.bench}
      quietTitle
      bench
      next={{ label: words.turned, sub: words.turnedSub, onTake: turned, big: true }}
      extra={[
        { label: words.pause, onTake: stop, disabled: !on.session, ring: words.pause },
        { label: words.takeBack, onTake: back, disabled: !on.canTakeBack, ring: words.takeBack },
      ]}
    >
      <div class="bench bench-turning">
        <div class="bench-head bench-head-1">
          <p class="bench-count" aria-live="polite">
            <span class="bench-figure">{number(on.turns)}</span>
            <span class="bench-of">
              {" "}
              {words.turns(on.turns)}
              {on.usual && <small>{words.usual(on.usual.from, on.usual.to)}</small>}
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
          <Scribed
            label={words.second}
            drawing={<OutcomeShape outcome="second" />}
            place="above"
            onTake={second}
            ring={words.second}
          />
          <Scribed
            label={words.lost}
            drawing={<OutcomeShape outcome="lost" />}
            place="above"
            onTake={lost}
            ring={words.lost}
          />
          {askedTwo.value ? (
            <Scribed label={words.two} sub={words.twoSub} onTake={() => sayTwo(facts)} />
          ) : (
            <Scribed
              label={words.good}
              drawing={<OutcomeShape outcome="good" />}
              place="above"
              onTake={() => good("hand")}
              ring={words.good}
            />
          )}
        </div>
        <EaselBench
          number={on.place}
          numberWords={number(on.place)}
          turns={on.turns}
          left={cutting.half === "first" ? cutting.second : cutting.first}
          right={cutting.half === "first" ? cutting.first : cutting.second}
        />
        <p class="bench-half">
          {words.half[cutting.half]}; {cutting.onBark ? words.onBark : words.offBark}
        </p>
      </div>
    </Page>
  );
}
