/** Where does every batch stand, pieces and tallies together? Joins batches with what was cut at the bench. */
import { computed } from "@preact/signals";
import type { Batch, Lot, Tally } from "../batches/model";
import {
  batchForBench,
  type Cut,
  leftToProfile,
  NOTHING_CUT,
  newestFirst,
  profiledOf,
  type Stands,
  waitsLongest,
  whereStands,
} from "../batches/rules";
import { batches, lots, tallies } from "../batches/state";
import { today } from "./care_facts";
import { cutByBatch, workshopStages } from "./cut_facts";

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

/** What no tap at the bench changes. */
const withTallies = computed(() => {
  const lotBy = new Map(lots.value.map((lot) => [lot.id, lot]));
  const written = new Map<string | null, Tally[]>();
  for (const tally of tallies.value) written.set(tally.batch, [...(written.get(tally.batch) ?? []), tally]);
  return newestFirst(batches.value).map((batch) => ({
    batch,
    lot: (batch.lot && lotBy.get(batch.lot)) || null,
    own: written.get(batch.id) ?? [],
  }));
});

export const allBatches = computed((): BatchFacts[] =>
  withTallies.value.map(({ batch, lot, own }) => {
    const cut = cutByBatch.value.get(batch.id) ?? NOTHING_CUT;
    const stands = whereStands(batch, lot, workshopStages.value, own, cut);
    const profiled = profiledOf(batch.id, own, cut);
    return {
      batch,
      lot,
      cut,
      stands,
      profiled,
      label: batch.label ?? lot?.label ?? "?",
      left: leftToProfile(batch, stands, profiled),
      begun: profiled > 0,
      last: cut.last,
    };
  }),
);

export const factsOf = (id: string | null): BatchFacts | null =>
  allBatches.value.find((one) => one.batch.id === id) ?? null;

/** The batch whose turn it is at the bench; on one machine: of those that were not planned for another. */
export const turnOn = (machine?: string): BatchFacts | null =>
  batchForBench(
    allBatches.value.filter(({ batch }) => !machine || !batch.machine || batch.machine === machine),
    today.value,
  );
export const turnAtBench = computed(() => turnOn());

/** The batch whose next stage waits longest. */
export const waiting = computed((): BatchFacts | null => waitsLongest(allBatches.value, today.value));
