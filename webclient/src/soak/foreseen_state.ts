/** What do the slips, the bench and the workshop say of a soak that is meant? Read here, worked out in the rules. */

import { WORKSHOP } from "../logbook/ids";
import { num } from "../logbook/read";
import { slip } from "../logbook/slips";
import { logbook } from "../logbook/state";
import { foreseen } from "../workshop/foreseen_slot";
import type { Pace } from "./foreseen_stagger_rules";
import { type Told, toldOf } from "./foreseen_told_rules";
import { did_jars } from "./foreseen_words";
import type { Soak, Water } from "./model";
import { order } from "./state";

/** Where nobody measured it; common practice, no source. */
export const ROOM_C = 20;

export function toldFor(lot: string | null, water: Water, poured_c: number): Told | null {
  const gouge = num(logbook.row("lot", lot ?? ""), "gouge_mm");
  const own = lot === null ? undefined : slip("soak", lot);
  return toldOf([own, slip("soak", "all")], water, poured_c, ROOM_C, gouge);
}

/** The pace at the bench, as bench_day joins it; null: too few pieces were fully counted. */
export function paceFor(lot: string | null, batch: string | null): Pace | null {
  return (foreseen.value?.told["pace"]?.({ lot, batch }) as Pace | null | undefined) ?? null;
}

export const MOST_JARS = 12;

/** The jars there are: as the maker says, else as many as were ever numbered, two at least. */
export function jarsOf(soaks: readonly Soak[]): number {
  const said = num(logbook.row("workshop", WORKSHOP), "jars");
  if (said !== null && said >= 1) return Math.min(MOST_JARS, Math.round(said));
  return Math.min(MOST_JARS, Math.max(2, ...soaks.map((soak) => Number(soak.jar)).filter(Number.isInteger)));
}

export function keepJars(jars: number): void {
  order(did_jars, [{ kind: "workshop", record: WORKSHOP, set: { jars } }]);
}
