/** Batches. Joins batches and lots with what was tapped at the bench. */
import { STAGES, type Stage } from "../batches/model";
import { NewBatch, NewLot } from "../batches/NewBatch";
import { OneBatch } from "../batches/OneBatch";
import { OneLot } from "../batches/OneLot";
import { asListed, nextLabel, startingCount } from "../batches/rules";
import { Batches } from "../batches/Screen";
import { batches, changeBatch, changeLot, lotOf, lots, newBatch, newLot, tallies } from "../batches/state";
import * as words from "../batches/words";
import { minute } from "../clock";
import { dayOf } from "../language/format";
import { addDays, dayIn, daysBetween } from "../language/rules";
import { neverWas } from "../logbook/never_was";
import { counted } from "../profiling/model";
import { pieces } from "../profiling/state";
import { go, route } from "../route";
import type { Next } from "../workshop";
import { allBatches, type BatchFacts, factsOf, waiting } from "./batches_facts";
import { pickedBatch } from "./bench_facts";
import { today, zone } from "./care_facts";
import { workshopStages } from "./cut_facts";
import { taken } from "./later_orders";

/** What the batch's next stage is, as the one next thing: to the bench, or a tally. */
function nextOf(one: BatchFacts): Next | null {
  const next = one.stands.next;
  if (!next) return null;
  const dry = next.since ? daysBetween(dayIn(zone.value, next.since), today.value) : null;
  return {
    label: words.stageOf(next.stage, one.label),
    sub: words.waits(next.pieces, dry),
    onTake: () => {
      if (next.stage === "profiled") {
        pickedBatch.value = one.batch.id;
        go("bench");
      } else go("later", { batch: one.batch.id, stage: next.stage, day: "today" });
    },
  };
}

export default function BatchesPage() {
  const [view, id] = route.value.rest;
  const back = (): void => go("batches");
  if (view === "new") {
    return (
      <NewBatch
        lots={lots.value}
        labelFor={(lot) => nextLabel(lot?.label ?? null, batches.value)}
        taken={taken}
        today={today.value}
        tomorrow={addDays(today.value, 1)}
        pieces={startingCount(batches.value.at(-1)?.pieces ?? null, null)}
        onKeep={(made) => {
          newBatch(made);
          back();
        }}
        onBack={back}
      />
    );
  }
  const lot = view === "lot" ? lotOf(id ?? null) : null;
  if (lot) {
    return <OneLot key={lot.id} lot={lot} onChange={(set) => changeLot(lot.id, set)} onBack={back} />;
  }
  if (view === "lot")
    return (
      <NewLot
        lots={lots.value}
        onOpen={(open) => go("batches", "lot", open)}
        onKeep={(label, comes) => {
          newLot(label, comes);
          go("batches", "new");
        }}
        onLater={back}
      />
    );
  const one = view === "batch" ? factsOf(id ?? null) : null;
  if (one) return <One key={one.batch.id} one={one} onBack={back} />;
  const open = asListed(
    allBatches.value.filter((each) => !each.batch.closed),
    today.value,
  );
  const all = view === "all";
  const shown = all ? allBatches.value : open.slice(0, 8);
  const wait = waiting.value;
  const stages = STAGES.filter((stage) =>
    shown.some((each) => each.stands.stages.some((of) => of.stage === stage)),
  );
  const order = orderOf(stages, shown);
  const from = addDays(today.value, -7);
  const to = addDays(today.value, 14);
  const week = allBatches.value
    .filter((each) => each.batch.plannedDay && each.batch.plannedDay >= from && each.batch.plannedDay <= to)
    .sort((a, b) => ((a.batch.plannedDay ?? "") < (b.batch.plannedDay ?? "") ? -1 : 1));
  return (
    <Batches
      sub={words.when(minute.value)}
      shown={shown}
      older={all ? 0 : allBatches.value.length - shown.length}
      stages={order}
      today={today.value}
      week={week}
      next={(wait && nextOf(wait)) ?? { label: words.newBatch, onTake: () => go("batches", "new") }}
      onOpen={(batch) => go("batches", "batch", batch)}
      onOlder={() => go("batches", "all")}
      onNewBatch={() => go("batches", "new")}
      onNewLot={() => go("batches", "lot")}
      onLater={() => go("later")}
      onOpening={() => go("later", "opening")}
    />
  );
}

/** The columns stand in the workshop's order; without one, in the order that most batches go by. */
function orderOf(stages: readonly Stage[], shown: readonly BatchFacts[]): Stage[] {
  const own = workshopStages.value.length
    ? workshopStages.value
    : (shown[0]?.stands.stages.map((of) => of.stage) ?? [...STAGES]);
  return [...stages].sort((a, b) => ((own.indexOf(a) + 99) % 99) - ((own.indexOf(b) + 99) % 99));
}

function One(p: { one: BatchFacts; onBack: () => void }) {
  const { one } = p;
  const byDay = new Map<string, { day: string; good: number; second: number; lost: number }>();
  for (const piece of pieces.value) {
    const outcome = counted(piece)?.outcome;
    if (piece.batch !== one.batch.id || !outcome || !piece.at) continue;
    const day = dayOf(piece.at);
    const of = byDay.get(day) ?? { day, good: 0, second: 0, lost: 0 };
    of[outcome] += 1;
    byDay.set(day, of);
  }
  const id = one.batch.id;
  return (
    <OneBatch
      shown={one}
      lots={lots.value}
      tallies={tallies.value.filter((tally) => tally.batch === id)}
      tapped={[...byDay.values()]}
      workshopStages={workshopStages.value}
      today={today.value}
      tomorrow={addDays(today.value, 1)}
      next={nextOf(one) ?? { label: words.back, onTake: p.onBack }}
      onBack={p.onBack}
      wrong={(label) => taken(label, id)}
      onTally={(stage) => go("later", { batch: id, stage, day: "today" })}
      onChange={(set) => changeBatch(id, set)}
      onLot={(lot) => go("batches", "lot", lot)}
      onStrike={(tally) => neverWas("tally", tally)}
    />
  );
}
