/** Where does every batch stand, pieces and tallies together? Joins batches with what was cut at the bench. */
import { computed } from "@preact/signals";
import type { Batch, Lot, Stage, Tally } from "../batches/model";
import { asStages } from "../batches/model";
import {
  batchForBench,
  type Cut,
  NOTHING_CUT,
  newestFirst,
  profiledOf,
  type Stands,
  waitsLongest,
  whereStands,
} from "../batches/rules";
import { batches, lots, tallies } from "../batches/state";
import { texts } from "../logbook/read";
import { logbook } from "../logbook/state";
import { counted } from "../profiling/model";
import { pieces } from "../profiling/state";
import { today, WORKSHOP } from "./care_facts";

export interface BatchFacts {
  batch: Batch;
  lot: Lot | null;
  label: string;
  cut: Cut;
  stands: Stands;
  /** Pieces not yet profiled; 1 where the batch does not say how many it has. */
  left: number;
  profiled: number;
  begun: boolean;
  last: string | null;
}

/** What was tapped at the bench, by batch. */
export const cutByBatch = computed((): Map<string, Cut> => {
  const all = new Map<string, Cut>();
  for (const piece of pieces.value) {
    const outcome = counted(piece)?.outcome;
    if (!piece.batch || !outcome) continue;
    const cut = all.get(piece.batch) ?? { ...NOTHING_CUT };
    all.set(piece.batch, cut);
    cut[outcome] += 1;
    if (piece.at && (!cut.last || piece.at > cut.last)) cut.last = piece.at;
  }
  return all;
});

export const workshopStages = computed((): Stage[] =>
  asStages(texts(logbook.row("workshop", WORKSHOP), "stages")),
);

export const allBatches = computed((): BatchFacts[] => {
  const lotBy = new Map(lots.value.map((lot) => [lot.id, lot]));
  const written = new Map<string | null, Tally[]>();
  for (const tally of tallies.value) written.set(tally.batch, [...(written.get(tally.batch) ?? []), tally]);
  return newestFirst(batches.value).map((batch) => {
    const lot = (batch.lot && lotBy.get(batch.lot)) || null;
    const cut = cutByBatch.value.get(batch.id) ?? NOTHING_CUT;
    const own = written.get(batch.id) ?? [];
    const stands = whereStands(batch, lot, workshopStages.value, own, cut);
    const profiled = profiledOf(batch.id, own, cut);
    const at = stands.stages.findIndex((one) => one.stage === "profiled");
    const further = stands.stages.slice(Math.max(0, at)).some((one) => one.passed !== null) && profiled === 0;
    return {
      batch,
      lot,
      cut,
      stands,
      profiled,
      label: batch.label ?? lot?.label ?? "?",
      left: at === -1 || further ? 0 : batch.pieces === null ? 1 : Math.max(0, batch.pieces - profiled),
      begun: profiled > 0,
      last: cut.last,
    };
  });
});

export const factsOf = (id: string | null): BatchFacts | null =>
  allBatches.value.find((one) => one.batch.id === id) ?? null;

/** The batch whose turn it is at the bench. */
export const turnAtBench = computed((): BatchFacts | null => batchForBench(allBatches.value, today.value));

/** The batch whose next stage waits longest. */
export const waiting = computed((): BatchFacts | null => waitsLongest(allBatches.value, today.value));
