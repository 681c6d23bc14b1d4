/** What does a hand do at the bench, whichever face is up? Second, Lost, Pause, Take back: none of them is drawn anew at a tap. */
import { useMemo, useRef } from "preact/hooks";
import { OutcomeShape } from "../drawings/OutcomeShape";
import { go } from "../route";
import { type Extra, Scribed } from "../workshop";
import type { Outcome } from "./model";
import type { OnBench } from "./on_bench";
import { pause } from "./session_orders";
import { askingSeen, comeOff, sayGood, sayLost, takeBack } from "./state";
import * as words from "./words";

/** The edge once the batch is through, also after a loss of which nobody says what was seen. */
export const windDown = {
  label: words.windDown,
  sub: words.windDownSub,
  onTake: () => {
    askingSeen.value = null;
    go("wind-down");
  },
  big: true,
};

/** The orders stay the same ones from tap to tap, and see the bench as it was last drawn. */
export function useHands(on: OnBench, place: "above" | "after") {
  const seen = useRef(on);
  seen.current = on;
  const hands = useMemo(() => {
    const good = (by: "hand" | "pedal"): void => void sayGood(seen.current.facts, by);
    const back = (): void => takeBack(seen.current.own);
    const second = (): void => void comeOff("second", seen.current.facts);
    const lost = (): void => sayLost(seen.current.facts, seen.current.place);
    const stop = (): void => pause(seen.current.session);
    return {
      good,
      back,
      stop,
      ring: [
        { label: words.second, onTake: second },
        { label: words.lost, onTake: lost },
        { label: words.takeBack, onTake: back },
        { label: words.pause, onTake: stop },
      ],
      secondAndLost: (
        <>
          <OutcomeControl outcome="second" place={place} onTake={second} />
          <OutcomeControl outcome="lost" place={place} onTake={lost} />
        </>
      ),
    };
  }, []);
  const isOpen = on.session !== null;
  const stopAndBack = useMemo(
    (): Extra[] => [
      { label: words.pause, onTake: hands.stop, disabled: !isOpen, ring: words.pause },
      { label: words.takeBack, onTake: hands.back, disabled: !on.canTakeBack, ring: words.takeBack },
    ],
    [isOpen, on.canTakeBack],
  );
  return { ...hands, stopAndBack };
}

export function OutcomeControl(p: { outcome: Outcome; place: "above" | "after"; onTake: () => void }) {
  const label = words.outcomeWords[p.outcome];
  return (
    <Scribed
      label={label}
      drawing={<OutcomeShape outcome={p.outcome} />}
      place={p.place}
      onTake={p.onTake}
      ring={label}
    />
  );
}
