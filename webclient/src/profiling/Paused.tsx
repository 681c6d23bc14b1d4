/** What goes on without you? Since when the work rests, how many are done, what is in the water. */
import { Jar } from "../drawings/Jar";
import { Lath } from "../drawings/Lath";
import { number } from "../language/format";
import { go } from "../route";
import { usePedal } from "../wet_hands/pedal";
import { Page, Scribed } from "../workshop";
import { DoneLath } from "./Bench";
import type { OnBench } from "./on_bench";
import { goOn } from "./session_orders";
import { takeBack } from "./state";
import * as words from "./words";

/** A soak as this screen shows it; times in minutes. */
export interface Meanwhile {
  id: string;
  label: string;
  jar: string;
  pieces: number;
  wet: number;
  readyAt: number;
  left: number;
  been: number;
  span: number;
  mark: number | null;
}

export interface Asking {
  label: string;
  sub: string;
  onTake: () => void;
}

export function Paused(p: { on: OnBench; meanwhile: readonly Meanwhile[]; asking: readonly Asking[] }) {
  const { on } = p;
  const session = on.session;
  const resume = (): void => {
    if (session) goOn(session);
  };
  const wind = (): void => go("wind-down");
  const back = (): void => takeBack(on.own);
  usePedal({
    main: { label: words.goOn(on.place), onTake: resume },
    ring: [
      { label: words.windDown, onTake: wind },
      { label: words.takeBack, onTake: back },
    ],
  });
  return (
    <Page
      title={words.paused(session?.pausedAt ?? "")}
      sub={on.title}
      bench
      next={{ label: words.goOn(on.place), sub: words.goOnSub, onTake: resume }}
      extra={[
        { label: words.windDown, onTake: wind, ring: words.windDown },
        { label: words.takeBack, onTake: back, disabled: !on.canTakeBack, ring: words.takeBack },
      ]}
    >
      <p class="paused-count">
        <span class="paused-figure">{number(on.done)}</span> <strong>{words.doneSoFar(on.all)}</strong>
      </p>
      <DoneLath on={on} />
      {p.asking.map((ask) => (
        <Scribed key={ask.label} wide label={ask.label} sub={ask.sub} onTake={ask.onTake} />
      ))}
      <h2>{words.meanwhile}</h2>
      {p.meanwhile.length === 0 && <p>{words.nothingMeanwhile}</p>}
      {p.meanwhile.map((soak) => (
        <div class="meanwhile" key={soak.id}>
          <Jar pieces={soak.pieces} wet={soak.wet} small />
          <div>
            <h3>{words.readyIn(soak.label, soak.left)}</h3>
            <p>{words.jar(soak.jar, soak.readyAt)}</p>
            <Lath max_min={soak.span} now_min={soak.been} mark_min={soak.mark} small />
          </div>
        </div>
      ))}
      <p>{words.pieceWithout(on.place)}</p>
    </Page>
  );
}
