/** What two phones said differently and somebody must settle; Today lists it, nothing waits for it. */
import { computed } from "@preact/signals";
import * as blade_words from "../blades/words";
import { minute, now } from "../clock";
import type { Piece, Session } from "../profiling/model";
import { alsoOpen, disagreeing, openSessions } from "../profiling/rules";
import { pieces, sessions } from "../profiling/state";
import * as words from "../profiling/words";
import { outcomeWords } from "../profiling/words";
import { go } from "../route";
import { factsOf } from "./batches_facts";
import { machines, placeOf } from "./bench_facts";
import { twoBladesAsked } from "./blade_change_facts";
import { labelOf } from "./care_facts";

export interface AskedOfMaker {
  key: string;
  label: string;
  sub: string;
  onTake: () => void;
}

export const piecesAsked = computed((): Piece[] => disagreeing(pieces.value));

export const sessionsAsked = computed((): [Session, Session][] => {
  const at = Math.max(minute.value, now());
  return machines.value.flatMap((machine): [Session, Session][] => {
    const open = openSessions(machine.id, sessions.value, pieces.value, at).sort((a, b) =>
      (a.began ?? "") < (b.began ?? "") ? -1 : 1,
    );
    const first = open[0];
    const other = first ? alsoOpen(first, open) : null;
    return first && other ? [[first, other]] : [];
  });
});

/** One line for each question, to be shown where there is room: Today, Paused, the wind down. */
export const questions = computed((): AskedOfMaker[] => [
  ...sessionsAsked.value.map(
    ([first, other]): AskedOfMaker => ({
      key: `sessions/${other.id}`,
      label: words.one_title,
      sub: words.one_sub,
      onTake: () => go("question", "sessions", first.id),
    }),
  ),
  ...twoBladesAsked().map(
    ({ machine, earlier, later }): AskedOfMaker => ({
      key: `blades/${machine}`,
      label: blade_words.two_title,
      sub: [earlier, later].map((move) => labelOf(move.blade) ?? "?").join(", "),
      onTake: () => go("question", "blades", machine),
    }),
  ),
  ...piecesAsked.value.map(
    (piece): AskedOfMaker => ({
      key: `piece/${piece.id}`,
      label: words.two_title(
        placeOf(piece),
        factsOf(piece.batch)?.label ?? null,
        piece.standing[0]?.outcome ?? "good",
        piece.standing[1]?.outcome ?? "lost",
      ),
      sub: piece.standing.map((one) => outcomeWords[one.outcome]).join(", "),
      onTake: () => go("question", "piece", piece.id),
    }),
  ),
]);
