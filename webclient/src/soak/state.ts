/** The soaks as this phone has them, and what a maker does with one. Each order can be taken back. */
import { computed, type ReadonlySignal, signal } from "@preact/signals";
import { now, nowText } from "../clock";
import { WORKSHOP } from "../logbook/ids";
import type { Edit, Values } from "../logbook/model";
import { at } from "../logbook/read";
import { logbook, newId } from "../logbook/state";
import { type Mark, readHabit, readSoak, type Soak, type SoakHabit, type Water } from "./model";
import { freeJar, nextGroup, PRESET_C, type PutIn, planned, trueNow } from "./rules";

export const habit: ReadonlySignal<SoakHabit> = computed(() => readHabit(logbook.row("workshop", WORKSHOP)));

/** One of which nobody said how long, as from a program beside Easelside, takes what is usual. */
export const soaks: ReadonlySignal<Soak[]> = computed(() =>
  logbook.rows("soak").map((row) => {
    const soak = readSoak(row);
    return soak.soak_s > 0 ? soak : { ...soak, soak_s: planned(soak.water, habit.value).soak_s };
  }),
);

/** The phone's `time`, by the workshop's clock as far as it is known. */
export function workshopTime(time: number): number {
  return trueNow(time, logbook.status.value.clockOff_ms);
}

/** What was done last, for Take back; null: nothing, or it was taken back. */
const did = signal<{ what: string; takeBack: () => void } | null>(null);
export const lastOrder: ReadonlySignal<{ what: string; takeBack: () => void } | null> = did;

export function order(what: string, edits: readonly Edit[]): void {
  const earlier = edits.map((edit) => {
    const row = logbook.row(edit.kind, edit.record);
    const set = typeof edit.set === "function" ? {} : edit.set;
    const isNew = !row && edit.kind !== "workshop"; // there is one workshop, and it stays
    const before: Values = isNew
      ? { removed: true }
      : Object.fromEntries(Object.keys(set).map((name) => [name, at(row, name) ?? null]));
    return { kind: edit.kind, record: edit.record, before };
  });
  logbook.write(edits);
  did.value = {
    what,
    takeBack: () => {
      did.value = null;
      for (const { kind, record, before } of earlier) logbook.takeBack(kind, record, before);
    },
  };
}

function change(what: string, soak: Soak, set: Values): void {
  order(what, [{ kind: "soak", record: soak.id, set }]);
}

function stamped(name: "put_in" | "taken_out"): Values {
  return { [name]: nowText(), [`${name}_skew_ms`]: logbook.status.peek().clockOff_ms };
}

/** Puts a group in, into the lowest free jar. `fresh`: the maker said that the water is. Returns the soak's id. */
export function startSoak(what: string, into: PutIn, fresh = false): string {
  const id = newId();
  const set = {
    ...fieldsOf(into),
    ...stamped("put_in"),
    jar: freeJar(soaks.peek()),
    ...(into.run === null ? {} : { run: into.run }),
    ...(fresh ? { fresh } : {}),
  };
  order(what, [{ kind: "soak", record: id, set }]);
  return id;
}

/** The first evening: the water chosen is this maker's habit from now on. */
export function startFirst(what: string, water: Water): string {
  const id = newId();
  order(what, [
    { kind: "workshop", record: WORKSHOP, set: { soak_habit: water } },
    {
      kind: "soak",
      record: id,
      set: {
        purpose: "profile",
        jar: "1",
        water,
        water_c: PRESET_C[water],
        soak_s: planned(water, habit.peek()).soak_s,
        ...stamped("put_in"),
      },
    },
  ]);
  return id;
}

/** The next group of the row that is under way. */
export function putNextGroupIn(what: string): void {
  const next = nextGroup(soaks.peek(), workshopTime(now()));
  const first = next?.row[0];
  if (!next || !first) return;
  startSoak(what, { ...first, pieces: next.pieces, run: first.run ?? first.id });
}

function fieldsOf(into: PutIn): Values {
  const { purpose, pieces, of_pieces, every_s, lot, batch, water, water_c, soak_s } = into;
  return { purpose, pieces, of_pieces, every_s, lot, batch, water, water_c, soak_s };
}

export function takeOut(what: string, soak: Soak): void {
  change(what, soak, { ...stamped("taken_out"), rings_again_at: null });
}

export function markAs(what: string, soak: Soak, mark: Mark): void {
  change(what, soak, { mark });
}

/** Out of the water and into the air, to dry back a little. */
export function dryBack(what: string, soak: Soak): void {
  change(what, soak, {
    ...(soak.taken_out === null ? stamped("taken_out") : {}),
    drying_since: nowText(),
    dried_at: null,
  });
}

export function dryEnough(what: string, soak: Soak): void {
  change(what, soak, { dried_at: nowText() });
}

/** No more of this row go in: its plan ends with what is in. */
export function endRow(what: string): void {
  const row = nextGroup(soaks.peek(), workshopTime(now()))?.row;
  const first = row?.[0];
  if (!first) return;
  change(what, first, { of_pieces: row.reduce((sum, soak) => sum + (soak.pieces ?? 0), 0) });
}

/** More pieces into the same jar: their own time begins now. */
export function addPieces(what: string, soak: Soak, pieces: number): void {
  const id = newId();
  const set = {
    ...fieldsOf({ ...soak, pieces, of_pieces: null, every_s: null }),
    ...stamped("put_in"),
    jar: soak.jar,
  };
  order(what, [{ kind: "soak", record: id, set }]);
}

/** A person says when it really went in: that is not corrected by any clock. */
export function putRight(what: string, soak: Soak, put_in_ms: number): void {
  change(what, soak, {
    put_in: new Date(put_in_ms).toISOString(),
    put_in_skew_ms: null,
    silenced_at: null,
    rings_again_at: null,
  });
}

export function changePlanned(what: string, soak: Soak, soak_s: number): void {
  change(what, soak, { soak_s, silenced_at: null, rings_again_at: null });
}

export function say(what: string, soak: Soak, set: Pick<Values, string>): void {
  change(what, soak, set);
}

export function neverWentIn(what: string, soak: Soak): void {
  change(what, soak, { removed: true });
}

/** This maker's own time for a water, seconds: kept for the workshop. */
export function keepHabit(what: string, water: Water, soak_s: number): void {
  const name = water === "warm" ? "soak_warm_s" : water === "overnight" ? "soak_overnight_s" : "soak_cold_s";
  order(what, [{ kind: "workshop", record: WORKSHOP, set: { [name]: soak_s } }]);
}
