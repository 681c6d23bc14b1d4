/** One question about what two phones said. */

import { TwoOutcomes, TwoSessions } from "../profiling/TwoOutcomes";
import * as two_words from "../profiling/two_words";
import * as words from "../profiling/words";
import { go, route } from "../route";
import { Page } from "../workshop";
import { factsOf } from "./batches_facts";
import { piecesAsked, sessionsAsked } from "./questions";

const leave = (): void => {
  if (history.length > 1) history.back();
  else go("today");
};

export default function QuestionPage() {
  const [kind, id] = route.value.rest;
  if (kind === "piece") {
    const piece = piecesAsked.value.find((one) => one.id === id);
    if (piece)
      return (
        <TwoOutcomes
          key={piece.id}
          piece={piece}
          place={piece.number}
          batch={factsOf(piece.batch)?.label ?? null}
          onLeave={leave}
        />
      );
  }
  const pair = kind === "sessions" ? sessionsAsked.value.find(([first]) => first.id === id) : undefined;
  if (pair) return <TwoSessions first={pair[0]} other={pair[1]} onLeave={leave} />;
  return (
    <Page title={two_words.settled} next={{ label: words.today, onTake: () => go("today") }}>
      <p>{two_words.settledSub}</p>
    </Page>
  );
}
