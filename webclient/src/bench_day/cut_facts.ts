/** How many pieces of every batch did the machine cut, as they were tapped? Joins batches with the bench. */
import { computed } from "@preact/signals";
import { asStages, type Stage } from "../batches/model";
import { type Cut, NOTHING_CUT } from "../batches/rules";
import { WORKSHOP } from "../logbook/ids";
import { texts } from "../logbook/read";
import { logbook } from "../logbook/state";
import { asPiece, counted } from "../profiling/model";

/** The maker's own order of the stages; empty: not said. */
export const workshopStages = computed((): Stage[] =>
  asStages(texts(logbook.row("workshop", WORKSHOP), "stages")),
);

export const cutByBatch = computed((): Map<string, Cut> => {
  const all = new Map<string, Cut>();
  for (const piece of logbook.rows("piece").map(asPiece)) {
    const outcome = counted(piece)?.outcome;
    if (!piece.batch || !outcome) continue;
    const cut = all.get(piece.batch) ?? { ...NOTHING_CUT };
    all.set(piece.batch, cut);
    cut[outcome] += 1;
    if (piece.at && (!cut.last || piece.at > cut.last)) cut.last = piece.at;
  }
  return all;
});
