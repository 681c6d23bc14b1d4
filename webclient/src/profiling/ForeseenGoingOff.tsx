/** Which edge is going off, and what speaks for it? A line on Today, at set-up and at the wind down. */
import { go } from "../route";
import { Scribed } from "../workshop";
import type { Found } from "./foreseen_watch_rules";
import * as words from "./foreseen_words";

export interface EdgeWatched {
  machine: string;
  name: string;
  blade: string | null;
  found: Found;
  /** of the last pieces, how many were lost */
  lost: number;
  of: number;
  /** the piece before which it was last found straight */
  straightAt: number | null;
  drifts: readonly { point: string; wet: boolean }[];
  pieces: number;
  onceIn: number;
}

export function reasonsFor(edge: EdgeWatched): string[] {
  const { found } = edge;
  return [
    ...(found.onset === null ? [] : [words.slowerSince(found.rise, found.onset + 1)]),
    ...(edge.lost >= 2 ? [words.lostOfLast(edge.lost, edge.of)] : []),
    ...edge.drifts.map(({ point, wet }) => words.drifts(point, wet)),
    words.notLookedAt(edge.straightAt),
  ];
}

export function ForeseenGoingOff(p: { edge: EdgeWatched }) {
  const { edge } = p;
  return (
    <section class="stack">
      <p>
        <strong>
          {words.goingOff(edge.blade ?? "?")} {words.lookAtIt}
        </strong>{" "}
        {words.speaks(reasonsFor(edge))}
      </p>
      <Scribed
        wide
        label={words.whyEdge}
        sub={words.watchFrom(edge.pieces, edge.onceIn)}
        onTake={() => go("evidence", "watch", edge.machine)}
      />
    </section>
  );
}
