/** One question about what two phones said. */
import type { TwoBlades } from "../blades/rules";
import { sayWhich } from "../blades/two_blades";
import * as blade_two from "../blades/two_words";
import * as blade_words from "../blades/words";
import { HousedBlade } from "../drawings/Blades";
import { clockTime, day } from "../language/format";

import { TwoOutcomes, TwoSessions } from "../profiling/TwoOutcomes";
import * as two_words from "../profiling/two_words";
import * as words from "../profiling/words";
import { go, route } from "../route";
import { Page, Question } from "../workshop";
import { factsOf } from "./batches_facts";
import { machines, placeOf } from "./bench_facts";
import { twoBladesAsked } from "./blade_change_facts";
import { labelOf } from "./care_facts";
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
          place={placeOf(piece)}
          batch={factsOf(piece.batch)?.label ?? null}
          onLeave={leave}
        />
      );
  }
  const two = kind === "blades" && twoBladesAsked().find(({ machine }) => machine === id);
  if (two) return <WhichBlade two={two} />;
  const pair = kind === "sessions" ? sessionsAsked.value.find(([first]) => first.id === id) : undefined;
  if (pair) return <TwoSessions first={pair[0]} other={pair[1]} onLeave={leave} />;
  return (
    <Page title={two_words.settled} next={{ label: words.today, onTake: () => go("today") }}>
      <p>{two_words.settledSub}</p>
    </Page>
  );
}

function WhichBlade(p: { two: TwoBlades }) {
  const { two } = p;
  const leave = (): void => go("today");
  const sides = [two.earlier, two.later].map((move) => {
    const label = labelOf(move.blade) ?? "?";
    return {
      label: blade_words.blade(label),
      sub: blade_two.two_at(`${day(move.at)}, ${clockTime(move.at)}`),
      drawing: <HousedBlade label={label} kept="fitted" />,
      onTake: () => {
        sayWhich(two, move.blade);
        leave();
      },
    };
  });
  const machine = machines.value.find((each) => each.id === two.machine)?.name ?? "";
  return (
    <Question
      title={blade_words.two_title}
      sub={blade_two.two_sub(machine)}
      sides={sides}
      meanwhile={blade_two.two_meanwhile(labelOf(two.later.blade) ?? "?")}
      next={{ label: blade_two.two_later, sub: blade_two.two_later_sub, onTake: leave }}
    />
  );
}
