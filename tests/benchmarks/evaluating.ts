/** What a phone works out from each kind of slip, with the arguments of the cases that both sides run. */
import { advice, bladesNeeded } from "../../webclient/src/blades/foreseen_grinding_rules";
import { LEVELS, leftNow, PARTS, readEdge, readLife } from "../../webclient/src/blades/foreseen_rules";
import { piecesToStart, seenShare, startFor, yielded } from "../../webclient/src/batches/foreseen_rules";
import { daysUntilOneOf, readPace } from "../../webclient/src/care/foreseen_rules";
import type { Values } from "../../webclient/src/logbook/model";
import { minutesAhead } from "../../webclient/src/profiling/foreseen_rules";
import { type Cut, watchEdge } from "../../webclient/src/profiling/foreseen_watch_rules";
import { BY_THREAD, moveFor } from "../../webclient/src/set_up/foreseen_rules";
import { foresee } from "../../webclient/src/soak/foreseen_rules";
import days from "../shared_cases/due_days.json";
import edges from "../shared_cases/edge_life.json";
import soaks from "../shared_cases/foreseen_soak.json";
import pace from "../shared_cases/pace.json";
import watch from "../shared_cases/watch.json";

function given<T>(value: T | null | undefined): T {
  if (value == null) throw new Error("a case is missing");
  return value;
}

const went = given(watch.cases.find(({ name }) => name === "it goes off"));
const ahead = given(pace.ahead[0]);
const life = given(readLife({ nodes: edges.laws["many edges"] }));
const edge = given(readEdge({ pieces: 100, life: 1, worn: 100 }));
const work = given(readPace(days.paces.batches));
const body = given(soaks.cases[0]).body as unknown as Values;
const demand = { piecesPerEdge: 240, perDay: 12, days: 14 };
const lot = { stages: { profiled: [26, 0, 4] } };
const stages = [
  [26, 30],
  [40, 44],
  [88, 90],
  [60, 61],
].map(([good = 0, tried = 0]) => seenShare(good, tried));

/** By the kind of slip, and what is said of it on one screen. */
export const evaluations: Record<string, () => unknown> = {
  "soak: ready, best, too soft": () => foresee(body, 38, 20, 1.3),
  "minutes: a batch of 24": () => minutesAhead(ahead.pace, ahead.age, 24, ahead.today as [number, number][]),
  [`watch: an edge of ${went.cuts.length} pieces`]: () => watchEdge(went.by, went.cuts as Cut[]),
  "edge: pieces left": () => leftNow(life, edge, 120, 1, LEVELS),
  "edge: the days it ends on": () => daysUntilOneOf(leftNow(life, edge, 120, 1, PARTS), work, LEVELS),
  "grinding: what to send, how many blades": () => [
    advice({ blunt: 3, keen: 2, away: 0 }, { one: 12, box: 45, box_of: 5 }, demand),
    bladesNeeded(demand, 0.05),
  ],
  "screw: how far to turn": () => moveFor([0.47, 0.46, 0.48, 0.47], 0.45, BY_THREAD, true),
  "yields: how many to start": () => startFor(24, given(yielded(lot, undefined, "profiled"))),
  "yields: through four stages": () => piecesToStart(24, stages, 0.9),
};

/** Milliseconds each time, after some times to warm up; the clock of a page is coarse, so many go into one. */
export function times(name: string, rounds: number, each: number): number[] {
  const evaluate = given(evaluations[name]);
  for (let i = 0; i < each; i += 1) evaluate();
  return Array.from({ length: rounds }, () => {
    const began = performance.now();
    for (let i = 0; i < each; i += 1) evaluate();
    return (performance.now() - began) / each;
  });
}
