/** Where does the session stand that is open now? Today and the Chest's drawers say what the bench says. */
import { computed } from "@preact/signals";
import { prefixed } from "../logbook/read";
import { logbook } from "../logbook/state";
import { doneOf } from "../profiling/rules";
import { bench } from "./bench_facts";

/** `done`, `left`, `place`: of the batch, over all sessions; null: it does not say how many it has. */
export interface UnderWay {
  batch: string | null;
  done: number;
  left: number | null;
  place: number;
  /** came off in this session, of whichever batch */
  cut: number;
  checks: number;
  /** RFC 3339; null: it goes on */
  paused: string | null;
}

export const underWay = computed((): UnderWay | null => {
  const { session, own, facts, done, left, place } = bench();
  return (
    session && {
      batch: facts.batch?.label ?? null,
      done,
      left,
      place,
      cut: doneOf(own).all,
      checks: prefixed(logbook.row("session", session.id), "check/").filter(
        ([, field]) => field.value !== null,
      ).length,
      paused: session.pausedAt,
    }
  );
});
