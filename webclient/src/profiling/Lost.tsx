/** What was seen on the lost piece? Eight drawings; it can be passed over, the next piece is on already. */
import { useSignal } from "@preact/signals";
import { FaultDrawing } from "../drawings/Fault";
import { usePedal } from "../wet_hands/pedal";
import { Page, Scribed } from "../workshop";
import { windDown } from "./hands";
import type { OnBench } from "./on_bench";
import { askingSeen, sayGood, saySeen, takeBack } from "./state";
import * as words from "./words";
import { faults, faultWord } from "./words";

const CODES = faults.filter((code) => code !== "not_sure");
const EIGHT = CODES.slice(0, 8);
const MORE = CODES.slice(8);

export function Lost(p: { on: OnBench }) {
  const { on } = p;
  const more = useSignal(false);
  const asking = askingSeen.value;
  const codes = more.value ? MORE : EIGHT;
  const notSure = (): void => saySeen(["not_sure"]);
  const back = (): void => takeBack(on.own);
  const turnOver = (): void => {
    more.value = !more.value;
  };
  usePedal({
    main: { label: words.notSure, onTake: notSure, onTakeOff: back },
    ring: [
      ...codes.map((code) => ({ label: faultWord(code), onTake: () => saySeen([code]) })),
      { label: more.value ? words.fewer : words.more, onTake: turnOver },
      { label: words.takeBack, onTake: back },
    ],
  });
  if (!asking) return null;
  return (
    <Page
      title={words.lostTitle(asking.place)}
      sub={words.whatSeen}
      bench
      face="page-faults"
      next={
        on.left === 0
          ? windDown
          : {
              label: words.good,
              sub: words.goodNext(on.place),
              onTake: () => void sayGood(on.facts, "hand"),
              big: true,
            }
      }
      extra={[
        {
          label: more.value ? words.fewer : words.more,
          onTake: turnOver,
          ring: more.value ? words.fewer : words.more,
        },
        { label: words.notSure, onTake: notSure, ring: words.notSure },
        { label: words.takeBack, onTake: back, ring: words.takeBack },
      ]}
    >
      <Faults codes={codes} onTake={(code) => saySeen([code])} />
    </Page>
  );
}

/** `seen`: those that were said. */
export function Faults(p: {
  codes: readonly string[];
  seen?: readonly string[];
  onTake: (code: string) => void;
}) {
  return (
    <div class="faults">
      {p.codes.map((code) => (
        <Scribed
          key={code}
          label={faultWord(code)}
          place="above"
          drawing={<FaultDrawing fault={code} />}
          chosen={p.seen?.includes(code)}
          onTake={() => p.onTake(code)}
          ring={faultWord(code)}
        />
      ))}
    </div>
  );
}
