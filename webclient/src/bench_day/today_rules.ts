/** What is the one next thing, when nothing is ready and nothing due in the water? Facts of the day in, one answer out. Pure. */

export interface DayFacts {
  isInWater: boolean;
  /** taken out today and not all cut yet, as far as is known */
  isOut: boolean;
  /** a session that is open: pieces cut, or only being set up; `left` of its batch, where that is known */
  session: { cut: number; checks: number; left: number | null } | null;
}

export type NextThing = "bench" | "wind-down" | "set-up" | "soak";

/** Lines of the set-up: all nine looked at means that the bench is next. */
const LINES = 9;

export function nextThing(day: DayFacts): NextThing {
  if (day.session !== null) {
    const { cut, checks, left } = day.session;
    if (cut > 0) return left === 0 ? "wind-down" : "bench";
    return checks >= LINES ? "bench" : "set-up";
  }
  if (day.isInWater || day.isOut) return "set-up";
  return "soak";
}

export interface FirstFacts {
  lots: number;
  machines: number;
  blades: number;
  isInWater: boolean;
  /** something is out of the water, or a session has begun */
  isAtBench: boolean;
  /** what was put off today */
  later: readonly string[];
}

export type FirstAsk = "lot" | "machine" | "blade";

/** Asked when it first matters: the lot while its cane is in the water, the machine at the bench, then its blade. */
export function firstAsk(facts: FirstFacts): FirstAsk | null {
  const asks = (what: FirstAsk): boolean => !facts.later.includes(what);
  if (facts.isAtBench && facts.machines === 0 && asks("machine")) return "machine";
  if (facts.isAtBench && facts.machines > 0 && facts.blades === 0 && asks("blade")) return "blade";
  if (facts.isInWater && facts.lots === 0 && asks("lot")) return "lot";
  return null;
}
