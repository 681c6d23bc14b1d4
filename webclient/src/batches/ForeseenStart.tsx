/** How many must be started so that enough come out good? */
import { texts } from "../logbook/read";
import { slip } from "../logbook/slips";
import { logbook } from "../logbook/state";
import { go } from "../route";
import { Scribed, Stepper } from "../workshop";
import {
  byPractice,
  ENOUGH,
  goodBetween,
  type Started,
  startFor,
  startThrough,
  type Yielded,
  yielded,
} from "./foreseen_rules";
import * as words from "./foreseen_words";
import { asStages, STAGES, type Stage } from "./model";

export interface StartFacts {
  lot: string | null;
  label: string | null;
  pieces: number | null;
  wanted: number | null;
  /** where it is asked here */
  onWanted?: (wanted: number) => void;
  /** already cut, and good of these */
  done?: number;
  good?: number;
  onStart: (pieces: number) => void;
}

export function ForeseenStart(p: StartFacts) {
  const wanted = p.wanted ?? (p.onWanted ? (p.pieces ?? 24) : null);
  return (
    <section class="stack">
      {p.onWanted && <Stepper label={words.wanted} value={wanted ?? 0} max={999} onChange={p.onWanted} />}
      {wanted !== null && wanted > 0 && <Answer {...p} wanted={wanted} />}
    </section>
  );
}

export function Answer(p: StartFacts & { wanted: number }) {
  const of = (stage: Stage): Yielded | null =>
    yielded(slip("yields", p.lot ?? "")?.body, slip("yields", "all")?.body, stage);
  const rests = of("profiled");
  const found = rests && startFor(p.wanted, rests);
  const left = (p.pieces ?? 0) - (p.done ?? 0);
  if (p.done && rests) return left > 0 ? <StillToCut {...p} left={left} rests={rests} /> : null;
  if (!found) {
    const start = byPractice(p.wanted);
    return (
      <>
        <p>{words.practice(p.wanted, start, rests?.wanting ?? ENOUGH)}</p>
        <Take {...p} start={start} />
      </>
    );
  }
  return (
    <>
      <p role="status">
        <strong>{words.start(p.wanted, found.start, p.label)}</strong>
      </p>
      <p>
        {[
          words.range(found.even, found.surer),
          ...further(p.wanted, found, of),
          restsOn(rests, p.label),
        ].join(" ")}
      </p>
      <Take {...p} start={found.start} />
      <Scribed wide label={words.why} onTake={() => go("evidence", "yields", p.lot ?? "all")} />
    </>
  );
}

const restsOn = (rests: Yielded, label: string | null): string =>
  rests.from === "lot"
    ? words.fromLot(rests.good, rests.tried, label)
    : words.fromLots(rests.lots, rests.wanting, label);

/** Where later stages lose some too, the number for the last of them. */
function further(wanted: number, found: Started, of: (stage: Stage) => Yielded | null): string[] {
  const order = asStages(texts(logbook.rows("workshop")[0], "stages"));
  const stages = order.length ? order : STAGES;
  const after = stages.slice(stages.indexOf("profiled") + 1);
  const counted = after.flatMap((stage) => {
    const rests = of(stage);
    return rests && rests.tried >= ENOUGH ? [{ stage, rests }] : [];
  });
  const last = counted.at(-1);
  const start = startThrough(wanted, [found.rests, ...counted.map(({ rests }) => rests)]);
  return last && start !== null && start > found.start ? [words.through(wanted, last.stage, start)] : [];
}

function StillToCut(p: StartFacts & { left: number; rests: Yielded }) {
  const [fewest, most] = goodBetween(p.left, [p.rests.share], 0.9);
  const good = p.good ?? 0;
  return (
    <>
      <p>
        <strong>{words.rest(p.left, fewest, most, [good + fewest, good + most])}</strong>
      </p>
      <p>{restsOn(p.rests, p.label)}</p>
    </>
  );
}

function Take(p: StartFacts & { wanted: number; start: number }) {
  if (p.start === p.pieces) return null;
  return (
    <Scribed
      wide
      label={words.take(p.start)}
      sub={p.pieces === null ? undefined : words.instead(p.pieces)}
      onTake={() => {
        p.onWanted?.(p.wanted);
        p.onStart(p.start);
      }}
    />
  );
}
