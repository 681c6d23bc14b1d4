/** How quickly are soaked pieces cut, and how many of them so far? What the soak's forecast asks of the bench, which goes
 * by the same slip. */
import { computed } from "@preact/signals";
import { text } from "../logbook/read";
import { logbook } from "../logbook/state";
import { asPiece, isDone } from "../profiling/model";
import { minutesOf } from "../profiling/pace";
import type { Pace } from "../soak/foreseen_stagger_rules";
import { A_GROUP, paceOf } from "../soak/foreseen_told_rules";
import { aheadOf } from "./foreseen_on_edge";

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

/** So many of today's say more than any lot. */
const TODAY = 3;

/** As the bench has it; where no slip is there yet of this batch's last pieces, else of its lot's; null: they are too few. */
export function paceAtBench(p: { lot: string | null; batch: string | null }): Pace | null {
  const ahead = aheadOf(p.lot, p.batch, A_GROUP);
  if (ahead) {
    const [usual_s, quick_s, slow_s] = [ahead.likely, ahead.low, ahead.high].map(
      (minutes) => (60 * minutes) / A_GROUP,
    ) as [number, number, number];
    const by = ahead.today >= TODAY ? ahead.today : ahead.isOthers ? "others" : "lot";
    return { usual_s, quick_s, slow_s, by };
  }
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
