/** Two phones, one piece, two outcomes: which holds, or were these two? */

import { useSignal } from "@preact/signals";
import { useEffect } from "preact/hooks";
import { Cane } from "../drawings/Cane";
import { OutcomeShape } from "../drawings/OutcomeShape";
import { Tally } from "../drawings/Tally";
import { logbook } from "../logbook/state";
import { usePedal } from "../wet_hands/pedal";
import { Question } from "../workshop";
import { counted, type Outcome, type Piece, type Session } from "./model";
import { minutesOf, piecesOf } from "./rules";
import { pieces, sessions } from "./state";
import { joinSessions, keepApart, keepOutcome, theseWereTwo } from "./two_phones";
import * as two_words from "./two_words";
import * as words from "./words";
import { faultWord, outcomeWords } from "./words";
import "./screen.css";

export function TwoOutcomes(p: { piece: Piece; place: number; batch: string | null; onLeave: () => void }) {
  const { piece } = p;
  const mine = useSignal<Set<string>>(new Set());
  usePedal({ main: null, ring: [] });
  useEffect(() => {
    void logbook.history("piece", piece.id).then((past) => {
      mine.value = new Set(
        past.filter((change) => change.device === logbook.device).map((change) => change.id),
      );
    });
  }, [piece.id]);
  const [first, second] = piece.standing;
  const counts = counted(piece)?.outcome ?? "good";
  if (!first || !second) return null;
  const minutes = minutesOf(piece);
  const settle = (order: () => void) => (): void => {
    order();
    p.onLeave();
  };
  return (
    <Question
      title={words.two_title(p.place, p.batch, first.outcome, second.outcome)}
      sub={two_words.two_sub}
      sides={[
        ...piece.standing.map((one) => ({
          label: outcomeWords[one.outcome],
          sub: [
            two_words.saidAt(
              mine.value.has(one.change) ? two_words.thisPhone : two_words.otherPhone,
              one.when,
            ),
            one.outcome === "lost" && piece.seen[0]
              ? faultWord(piece.seen[0])
              : minutes !== null && one.outcome === counts
                ? two_words.inMinutes(minutes)
                : null,
          ]
            .filter(Boolean)
            .join(", "),
          drawing: <AsItLies outcome={one.outcome} />,
          onTake: settle(() => keepOutcome(piece, one.change)),
        })),
        {
          label: two_words.wereTwo,
          sub: two_words.wereTwoSub,
          drawing: <Both piece={piece} />,
          onTake: settle(() => theseWereTwo(piece, pieces.value)),
        },
      ]}
      meanwhile={two_words.two_meanwhile(counts)}
      next={{ label: two_words.askLater, sub: two_words.askLaterSub, onTake: p.onLeave }}
    />
  );
}

const AsItLies = (p: { outcome: Outcome }) =>
  p.outcome === "good" ? (
    <Cane left={1} right={1} scored />
  ) : (
    <OutcomeShape outcome={p.outcome} width={100} />
  );

const Both = (p: { piece: Piece }) => (
  <span class="both">
    {p.piece.standing.map((one) => (
      <AsItLies key={one.change} outcome={one.outcome} />
    ))}
  </span>
);

export function TwoSessions(p: { first: Session; other: Session; onLeave: () => void }) {
  usePedal({ main: null, ring: [] });
  const of = (session: Session): number => piecesOf(session, sessions.value, pieces.value).length;
  const { first, other } = p;
  return (
    <Question
      title={words.one_title}
      sub={words.one_sub}
      sides={[
        {
          label: two_words.one_yes,
          sub: two_words.one_yesSub,
          drawing: <Tally n={of(first) + of(other)} />,
          onTake: () => {
            joinSessions(first, other);
            p.onLeave();
          },
        },
        {
          label: two_words.one_no,
          sub: two_words.one_noSub,
          drawing: (
            <span class="both">
              <Tally n={of(first)} />
              <Tally n={of(other)} />
            </span>
          ),
          onTake: () => {
            keepApart(first, other);
            p.onLeave();
          },
        },
      ]}
      meanwhile={two_words.one_meanwhile(first.began ?? "", of(first), other.began ?? "", of(other))}
      next={{ label: two_words.askLater, sub: two_words.askLaterSub, onTake: p.onLeave }}
    />
  );
}
