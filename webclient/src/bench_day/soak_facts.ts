/** What the soak needs to know of batches and lots, and how every soak stands now. Joins soak and batches. */
import { computed } from "@preact/signals";
import { type Batch, readBatch, readLot, readTally } from "../batches/model";
import {
  batchForBench,
  leftToProfile,
  NOTHING_CUT,
  newestFirst,
  profiledOf,
  whereStands,
} from "../batches/rules";
import { minute, second } from "../clock";
import { dayOf } from "../language/format";
import { once, text } from "../logbook/read";
import { logbook } from "../logbook/state";
import { go } from "../route";
import * as did_words from "../soak/did_words";
import type { BatchFact, DraftFacts, LotFact } from "../soak/draft";
import type { Soak } from "../soak/model";
import { inTheWater, isDrying, nextGroup, takenOutAt, toBeMarked } from "../soak/rules";
import { type Standing, standingOf } from "../soak/standing";
import { habit, putNextGroupIn, soaks, takeOut, workshopTime } from "../soak/state";
import * as words from "../soak/words";
import type { Next } from "../workshop";
import { cutByBatch, workshopStages } from "./cut_facts";

const asLot = once(readLot);
const asTally = once(readTally);

/** Newest first. */
export const lots = computed((): LotFact[] =>
  logbook
    .rows("lot")
    .map(readLot)
    .filter((lot) => lot.label !== null)
    .map((lot) => ({ id: lot.id, label: words.breakable(lot.label ?? "") }))
    .reverse(),
);

export const lotLabel = (id: string | null): string | null =>
  lots.value.find((lot) => lot.id === id)?.label ?? null;

/** Pieces of a batch that went into water to be profiled. */
export function soakedOf(batch: string, all: readonly Soak[]): number {
  return all
    .filter((soak) => soak.batch === batch && soak.purpose === "profile")
    .reduce((sum, soak) => sum + (soak.pieces ?? 0), 0);
}

/** Pieces of a batch that no water is for: `leftOf` them are still to be profiled, whatever was soaked. */
function asFact(batch: Batch, all: readonly Soak[], leftOf: LeftOf): BatchFact {
  const toCut = leftOf(batch);
  const dry = batch.pieces === null ? null : Math.max(0, batch.pieces - soakedOf(batch.id, all));
  return {
    id: batch.id,
    label: batch.label ?? "",
    lot: batch.lot,
    left: toCut === 0 ? 0 : dry === null ? null : Math.min(dry, toCut),
  };
}

/** How many of a batch the machine has still to cut. */
type LeftOf = (batch: Batch) => number;

/** The batches that a soak can belong to, and the one whose turn it is. */
export function batchesToSoak(
  batches: readonly Batch[],
  all: readonly Soak[],
  today: string,
  leftOf: LeftOf,
): { batches: BatchFact[]; next: BatchFact | null } {
  const open = newestFirst(batches).filter((batch) => !batch.closed && batch.label !== null);
  const turn = batchForBench(
    open.map((batch) => {
      const begun = soakedOf(batch.id, all) > 0;
      return { batch, left: asFact(batch, all, leftOf).left ?? 1, begun, last: null };
    }),
    today,
  );
  return {
    batches: open.map((batch) => asFact(batch, all, leftOf)),
    next: turn === null ? null : asFact(turn.batch, all, leftOf),
  };
}

/** The lot of what went into water to be profiled last, within a day of `now` (ms): that is what lies at the bench. */
export const lotAtHand = (all: readonly Soak[], now: number): string | null =>
  all.findLast((soak) => soak.purpose === "profile" && now - Date.parse(soak.put_in ?? "") < 24 * 3_600_000)
    ?.lot ?? null;

const leftToCut = computed((): LeftOf => {
  const lotBy = new Map(logbook.rows("lot").map((row) => [row.id, asLot(row)]));
  const written = logbook.rows("tally").map(asTally);
  const order = workshopStages.value;
  return (batch) => {
    const cut = cutByBatch.value.get(batch.id) ?? NOTHING_CUT;
    const lot = (batch.lot && lotBy.get(batch.lot)) || null;
    const stands = whereStands(batch, lot, order, written, cut);
    return leftToProfile(batch, stands, profiledOf(batch.id, written, cut));
  };
});

/** The facts of the draft, at this second. Call it where it is rendered. */
export function draftFacts(): DraftFacts {
  const now = workshopTime(minute.value);
  const all = logbook.rows("batch").map(readBatch);
  const { batches, next } = batchesToSoak(all, soaks.value, dayOf(now), leftToCut.value);
  return { soaks: soaks.value, habit: habit.value, lots: lots.value, batches, next, now };
}

export function standing(soak: Soak, now: number): Standing {
  return standingOf(soak, soaks.value, now, habit.value, lotLabel(soak.lot));
}

/** The second, but in steps of a minute until something is within two minutes of its end: strips move once a minute. */
const moment = computed((): number => {
  const now = workshopTime(minute.value);
  const close = inTheWater(soaks.value).some(
    (soak) => Math.abs(Date.parse(soak.put_in ?? "") + soak.soak_s * 1000 - minute.value) < 180_000,
  );
  return close ? Math.floor(workshopTime(second.value) / 1000) * 1000 : now;
});

export const soakTime = moment;

export const jars = computed((): Standing[] =>
  inTheWater(soaks.value).map((soak) => standing(soak, moment.value)),
);
export const drying = computed((): Standing[] =>
  soaks.value.filter(isDrying).map((soak) => standing(soak, moment.value)),
);
export const toMark = computed((): Standing | null => {
  const soak = toBeMarked(soaks.value, moment.value);
  return soak === null ? null : standing(soak, moment.value);
});
/** Out of its jar, which is free then where nothing else lies in it. */
export function outOfJar({ soak, name }: Standing, all: readonly Standing[]): Next {
  const isAlone = all.filter((other) => other.soak.jar === soak.jar).length < 2;
  return {
    label: words.take_out(soak.pieces),
    sub: words.jar_free(name, isAlone ? soak.jar : null),
    onTake: () => {
      takeOut(did_words.out, soak);
      go("soak");
    },
  };
}

/** Out with what is ready, in with what is due; null: neither is. */
export function dueNext(
  all: readonly Standing[],
  group: { at: number; pieces: number; row?: readonly Soak[] } | null,
  now: number,
): Next | null {
  const ready = all.find((one) => one.state === "ready" || one.state === "over");
  if (ready) return outOfJar(ready, all);
  if (group === null || group.at > now) return null;
  return {
    label: words.put_in(group.pieces, null),
    sub: words.due_at(group.at, lotLabel(group.row?.[0]?.lot ?? null)),
    onTake: () => putNextGroupIn(did_words.put_in),
  };
}

export const groupNext = computed(() => nextGroup(soaks.value, moment.value));

/** How long cane that was taken out is taken to wait for the machine: as long as an evening's work. */
const WAITS_MS = 6 * 3_600_000;

/** Cane to be profiled is out of the water, and no session has ended since: the bench is next, marked or not. */
export const isOut = computed((): boolean =>
  soaks.value.some((soak) => {
    const out = takenOutAt(soak);
    if (soak.purpose !== "profile" || out === null || isDrying(soak) || moment.value - out > WAITS_MS)
      return false;
    return !logbook.rows("session").some((row) => Date.parse(text(row, "ended") ?? "") > out);
  }),
);
