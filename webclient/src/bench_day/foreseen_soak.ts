/** How quickly are soaked pieces cut, and how many of them so far? What the soak's forecast asks of the bench. */
import { computed } from "@preact/signals";
import { text } from "../logbook/read";
import { logbook } from "../logbook/state";
import { asPiece, isDone } from "../profiling/model";
import { minutesOf } from "../profiling/pace";
import type { Pace } from "../soak/foreseen_stagger_rules";
import { paceOf } from "../soak/foreseen_told_rules";

/** So many of the newest pieces of a lot are its pace. */
const NEWEST = 30;

const cut = computed(() =>
  logbook
    .rows("piece")
    .map(asPiece)
    .filter((piece) => isDone(piece) && piece.at)
    .map((piece) => ({ batch: piece.batch, at: Date.parse(piece.at ?? ""), minutes: minutesOf(piece) }))
    .sort((a, b) => a.at - b.at),
);

const minutesWhere = (isOne: (batch: string | null) => boolean): number[] =>
  cut.value
    .flatMap(({ batch, minutes }) => (minutes !== null && isOne(batch) ? [minutes] : []))
    .slice(-NEWEST);

/** Of this batch, else of its lot; null: too few were fully counted. */
export function paceAtBench(p: { lot: string | null; batch: string | null }): Pace | null {
  const lotOf = (batch: string | null): string | null => text(logbook.row("batch", batch ?? ""), "lot");
  return (
    paceOf(minutesWhere((batch) => batch !== null && batch === p.batch)) ??
    paceOf(minutesWhere((batch) => p.lot !== null && lotOf(batch) === p.lot)) ??
    paceOf(minutesWhere(() => true))
  );
}

/** Pieces of a batch cut since `since` (ms). */
export const cutAtBench = (p: { batch: string | null; since: number }): number =>
  cut.value.filter(({ batch, at }) => at >= p.since && (p.batch === null || batch === p.batch)).length;
