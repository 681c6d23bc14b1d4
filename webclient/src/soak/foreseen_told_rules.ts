// What may be said of this lot in this water, on what does it rest, and may it be filled in?

import type { Values } from "../logbook/model";
import { type Counted, counted, type Foreseen, foresee, inThisWater, pointsOf, told } from "./foreseen_rules";
import type { Pace } from "./foreseen_stagger_rules";

/** Fewer marks than this from the water that is meant fill nothing in: the habit stays. */
const HERE = 3;
/** Where nobody marked too soft yet: as long again as ready. A starting value without a source. */
const LONG_AGAIN = 2;
/** Pieces of one group: their minutes lie closer together than those of one piece. */
export const A_GROUP = 6;
const ALMOST_SURELY = 1.645;

/** `body`: of a soak slip. */
export interface SlipFact {
  subject: string;
  body: Values;
}

export interface Told {
  /** the slip that it comes from: a lot's, or "all" */
  subject: string;
  marks: Counted;
  /** marks in this very water */
  here: number;
  foreseen: Foreseen;
  /** this lot was found still hard once: then the range has an early end that was tried */
  isTriedEarly: boolean;
  /** best time in water, where it may stand in place of the habit: by the lot's own marks in this water alone */
  fill_s: number | null;
}

/** The lot's own slip, else that of all lots; null: nothing can be said but the habit. */
export function toldOf(
  slips: readonly (SlipFact | undefined)[],
  water: string,
  poured_c: number,
  room_c: number | null,
  gouge_mm: number | null,
): Told | null {
  for (const slip of slips) {
    if (slip === undefined) continue;
    const marks = counted(slip.body);
    const thick = slip.subject === "all" ? gouge_mm : null;
    const foreseen = foresee(slip.body, poured_c, room_c, thick);
    if (foreseen === null || marks.all === 0) continue;
    const here = inThisWater(slip.body, water);
    return {
      subject: slip.subject,
      marks,
      here,
      foreseen,
      isTriedEarly: slip.subject !== "all" && marks.still_hard > 0,
      fill_s:
        slip.subject !== "all" && marks.wanting === 0 && here >= HERE ? wholeMinutes(foreseen.best_s) : null,
    };
  }
  return null;
}

/** Whole minutes; of hours, whole five minutes. */
function wholeMinutes(time_s: number): number {
  const step = time_s > 7200 ? 300 : 60;
  return Math.max(step, Math.round(time_s / step) * step);
}

/** Between ready (nearly always) and too soft: what a staggered row has to keep to. */
export function windowOf(told: Told | null, planned_s: number): { ready_s: number; too_soft_s: number } {
  if (told === null) return { ready_s: planned_s, too_soft_s: planned_s * LONG_AGAIN };
  const ready_s = told.fill_s === null ? planned_s : Math.min(told.foreseen.upper_s, told.fill_s);
  const soft = told.foreseen.too_soft_s;
  return { ready_s, too_soft_s: Math.max(ready_s, soft ?? ready_s * LONG_AGAIN) };
}

/** Seconds a piece from fully counted ones, where no slip says more; null: they are too few. */
export function paceOf(minutes: readonly number[]): Pace | null {
  if (minutes.length < HERE) return null;
  const logs = minutes.map(Math.log);
  const mean = logs.reduce((sum, value) => sum + value, 0) / logs.length;
  const spread = Math.sqrt(logs.reduce((sum, value) => sum + (value - mean) ** 2, 0) / (logs.length - 1));
  const usual_s = 60 * Math.exp(mean);
  const times = Math.exp((ALMOST_SURELY * spread) / Math.sqrt(A_GROUP));
  return { usual_s, quick_s: usual_s / times, slow_s: usual_s * times, by: "last" };
}

/** Waterlogged cane in the air, seconds; null: no slip tells of it. */
export interface Drying {
  lower_s: number;
  upper_s: number;
  observations: number;
}

export function dryingOf(slips: readonly (SlipFact | undefined)[]): Drying | null {
  for (const slip of slips) {
    const dry = slip?.body["dry"];
    if (typeof dry !== "object" || dry === null || Array.isArray(dry)) continue;
    const [lower_s, upper_s] = [told(dry, "lower_s"), told(dry, "upper_s")];
    if (lower_s !== null && upper_s !== null)
      return { lower_s, upper_s, observations: told(dry, "observations") ?? 0 };
  }
  return null;
}

/** One mark of the chart, as if it had lain in the water that most of them had. */
export interface ChartMark {
  minutes: number;
  height: number;
  mark: string;
}

/** Marks above each other where several fall on the same minute; heights 0 (still hard) to 100 (good, too soft). */
export function chartMarks(body: Values, asUsual: (time_s: number, poured_c: number) => number): ChartMark[] {
  const met = new Map<string, number>();
  return pointsOf(body).flatMap((point) => {
    const minutes = asUsual(point.minutes * 60, point.poured_c) / 60;
    const place = `${point.mark} ${Math.round(minutes)}`;
    const before = met.get(place) ?? 0;
    met.set(place, before + point.times);
    return Array.from({ length: Math.min(8, point.times) }, (_, i) => {
      const up = Math.min(8, before + i) * 4;
      return { minutes, height: point.mark === "still_hard" ? up : 100 - up, mark: point.mark };
    });
  });
}
