// What changed since last time, and how far does a screw move its stop?

import { type Answer, type Machine, type Setting, WHATS, type What } from "./model";

/** Coarse pitches, mm, by nominal diameter, mm. Source: ISO 261:1998, ISO 262:1998. */
const COARSE: Readonly<Record<string, number>> = {
  "1": 0.25,
  "1.1": 0.25,
  "1.2": 0.25,
  "1.4": 0.3,
  "1.6": 0.35,
  "1.8": 0.35,
  "2": 0.4,
  "2.2": 0.45,
  "2.5": 0.45,
  "3": 0.5,
  "3.5": 0.6,
  "4": 0.7,
  "4.5": 0.75,
  "5": 0.8,
  "6": 1,
  "7": 1,
  "8": 1.25,
  "9": 1.25,
  "10": 1.5,
  "11": 1.5,
  "12": 1.75,
};

/** Threads to the inch, coarse and fine, by size. Source: ASME B1.1-2003. */
const UNIFIED: Readonly<Record<string, { UNC?: number; UNF?: number }>> = {
  "0": { UNF: 80 },
  "1": { UNC: 64, UNF: 72 },
  "2": { UNC: 56, UNF: 64 },
  "3": { UNC: 48, UNF: 56 },
  "4": { UNC: 40, UNF: 48 },
  "5": { UNC: 40, UNF: 44 },
  "6": { UNC: 32, UNF: 40 },
  "8": { UNC: 32, UNF: 36 },
  "10": { UNC: 24, UNF: 32 },
  "12": { UNC: 24, UNF: 28 },
  "1/4": { UNC: 20, UNF: 28 },
  "5/16": { UNC: 18, UNF: 24 },
  "3/8": { UNC: 16, UNF: 24 },
  "7/16": { UNC: 14, UNF: 20 },
  "1/2": { UNC: 13, UNF: 20 },
};

const METRIC_SIZE = /^M\s*(\d+(?:[.,]\d+)?)(?:\s*[x×*]\s*(\d*[.,]?\d+))?$/i;
const PITCH_SAID = /^(\d*[.,]?\d+)\s*(mm|tpi)$/i;
const UNIFIED_SIZE = /^((?:#|No\.?\s*)?\d+|\d+\/\d+)(?:\s*"?\s*-\s*(\d+))?(?:\s*(UNC|UNF))?$/i;

/**
 * How far one turn moves a screw of this size, in mm: "M4", "M4x0.5", "#8-32 UNC", "#8 UNF", "No. 4-40", "1/4-20", or "0.5 mm", "40 tpi". Null where the
 * size says no pitch, or contradicts itself. Single-start threads.
 */
export function pitch_mm(size: string): number | null {
  const said_so = PITCH_SAID.exec(size.trim());
  if (said_so !== null) {
    const said = Number(said_so[1]?.replace(",", "."));
    const pitch = said_so[2]?.toLowerCase() === "mm" ? said : 25.4 / said;
    return pitch > 0 && pitch <= 6 ? pitch : null;
  }
  const metric = METRIC_SIZE.exec(size.trim());
  if (metric !== null) {
    const diameter = Number(metric[1]?.replace(",", "."));
    if (metric[2] === undefined) return COARSE[String(diameter)] ?? null;
    const pitch = Number(metric[2].replace(",", "."));
    return pitch > 0 && pitch < diameter ? pitch : null;
  }
  const unified = UNIFIED_SIZE.exec(size.trim());
  if (unified === null) return null;
  const series = unified[3]?.toUpperCase() as "UNC" | "UNF" | undefined;
  const known = UNIFIED[(unified[1] ?? "").replace(/^\D+/, "")];
  const bySeries = series === undefined ? undefined : known?.[series];
  const said = unified[2] === undefined ? undefined : Number(unified[2]);
  if (known === undefined || (series !== undefined && bySeries === undefined)) return null;
  if (said !== undefined && bySeries !== undefined && said !== bySeries) return null;
  const perInch = said ?? bySeries;
  return perInch === undefined || perInch <= 0 ? null : 25.4 / perInch;
}

/** Height in mm that so many turns make; signed as the turns are. */
export function height_mm(pitch: number, turns: number): number {
  return pitch * turns;
}

/** A number of turns as whole turns and eighths, the nearest: 2.375 is 2 and 3. */
/** "2 3/8", "3/8", "-1/8" as a number of turns; null where it is not written so. */
export function readTurns(typed: string): number | null {
  const found = /^([-−]?)\s*(?:(\d+)(?:\s+|$))?(?:(\d+)\s*\/\s*(\d+))?$/.exec(typed.trim());
  if (found === null || (found[2] === undefined && found[3] === undefined)) return null;
  const below = Number(found[4] ?? 1);
  if (below === 0) return null;
  const turns = Number(found[2] ?? 0) + Number(found[3] ?? 0) / below;
  return found[1] === "" ? turns : -turns;
}

/** A machine's settings, newest first: the first is the one that stands. */
export function settingsOf(machine: string, settings: readonly Setting[]): Setting[] {
  return settings
    .filter((each) => each.machine === machine)
    .sort((a, b) => (a.at > b.at ? -1 : a.at < b.at ? 1 : a.id > b.id ? -1 : 1));
}

/** What each row of the slip says of a setting. */
export const OF_ROW = {
  projection: "projection_mm",
  middle_stop: "middle_stop",
  shoulder_stop: "shoulder_stop",
} as const;
export const SET_ROWS = ["projection", "middle_stop", "shoulder_stop"] as const;

/**
 * When was this row's figure set as it stands? `settings` newest first. Those that do not say what was set in them: where
 * it differs from the one before, or the blade does.
 */
export function setSince(row: keyof typeof OF_ROW, settings: readonly Setting[]): string {
  const name = OF_ROW[row];
  const told = ({ blade, [name]: figure }: Setting): string => JSON.stringify([blade, figure]);
  const found = settings.find((each, k) => {
    const before = settings[k + 1];
    return !before || (each.moved ? each.moved.includes(name) : told(each) !== told(before));
  });
  return found?.at ?? "";
}

/** Is anything of it other than it stood with this blade? */
export function differs(
  moved: Partial<Pick<Setting, "projection_mm" | "template">>,
  stood: Setting | null,
  blade: string | null,
): boolean {
  const was: Record<string, unknown> = { ...stood };
  return stood?.blade !== blade || Object.entries(moved).some(([name, value]) => value !== was[name]);
}

/** What stood the last time that this machine was used. */
export interface LastTime {
  began: string;
  blade: string | null;
  lot: string | null;
  gouge_mm: number | null;
  setting: string | null;
}

/** What stands now. `edge_pieces` is what the edge in the machine has cut. */
export interface Now {
  machine: Machine;
  blade: string | null;
  /** When the blade in the machine was fitted. */
  fitted_at: string | null;
  edge_pieces: number;
  setting: Setting | null;
  lot: string | null;
  gouge_mm: number | null;
  is_oil_due: boolean;
}

export type Why = "first_time" | "new_blade" | "setting_moved" | "new_lot" | "oil_due" | "near_count";

/** So near its count an edge is looked at before every session. Common practice, no source. */
export const NEAR = 0.9;

/** What changed since last time, and why each wants a look; in the order of the work. */
export function changedSince(last: LastTime | null, now: Now): Map<What, Why> {
  const changed = new Map<What, Why>();
  if (last === null) {
    for (const what of ["edge", ...SET_ROWS] as const) changed.set(what, "first_time");
  } else {
    const isNewBlade = now.blade !== last.blade || (now.fitted_at !== null && now.fitted_at > last.began);
    if (now.edge_pieces >= now.machine.bow_after_pieces * NEAR) changed.set("edge", "near_count");
    if (isNewBlade) for (const what of SET_ROWS) changed.set(what, "new_blade");
    else if ((now.setting?.id ?? null) !== last.setting) changed.set("scrap", "setting_moved");
    if (now.lot !== null && now.lot !== last.lot) changed.set("lot", "new_lot");
  }
  if (now.is_oil_due) changed.set("pivot", "oil_due");
  return new Map(WHATS.flatMap((what) => (changed.has(what) ? [[what, changed.get(what) as Why]] : [])));
}

/** The set-up as it stands: what changed on top, the rest in one row; the first that is not answered comes next. */
export interface Slip {
  top: What[];
  rest: What[];
  next: What | "rest" | null;
  open: number;
}

export function slipOf(changed: ReadonlyMap<What, Why>, checks: Partial<Record<What, Answer>>): Slip {
  const top = WHATS.filter((what) => changed.has(what) || checks[what] === "needs_work");
  const rest = WHATS.filter((what) => !top.includes(what));
  const isOpen = (what: What): boolean => checks[what] === undefined;
  const restOpen = rest.some(isOpen);
  return {
    top,
    rest,
    next: top.find(isOpen) ?? (restOpen ? "rest" : null),
    open: top.filter(isOpen).length + (restOpen ? 1 : 0),
  };
}
