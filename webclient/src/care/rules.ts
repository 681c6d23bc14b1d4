// What is due, by which count, and roughly when?

import { addDays, dayIn } from "../language/rules";
import type { CareDone, CareTask, Tool } from "./model";

/** The pace is taken from this many calendar days. */
export const PACE_DAYS = 28;
/** So many blades in a box are usual. Common practice, no source. */
export const USUAL_BOX = 5;

/** Which stage of a batch is work for which tool. */
export const STAGE_OF_TOOL: Readonly<Partial<Record<Tool, string>>> = {
  gouger: "gouged",
  shaper: "shaped",
  mandrel: "formed",
  knife: "finished",
  reamer: "finished",
};

/** Pieces cut at a time: tapped ones and those written up later. Opening counts are no work and are left out by whoever asks. */
export interface Work {
  at: string;
  pieces: number;
}

export interface CareFacts {
  dones: readonly CareDone[];
  work: readonly Work[];
  /** When each session on the machine began; sessions joined into one stand here once. */
  sessions: readonly string[];
  today: string;
  zone: string;
}

export type DueBy = "pieces" | "sessions" | "days";

export interface Count {
  every: number;
  done: number;
  /** Below zero: so many over. */
  left: number;
}

export interface Due {
  task: CareTask;
  is_due: boolean;
  /** Which count is over, or will be first at the present pace; null where nothing says. */
  by: DueBy | null;
  pieces: Count | null;
  sessions: Count | null;
  /** The calendar day that it is due by days, not before it was put off to. */
  due_day: string | null;
  /** The earliest of that and of the pieces at the present pace: roughly the day that it falls due. */
  roughly_day: string | null;
  /** Put off until this day. */
  put_off_until: string | null;
  last_done: CareDone | null;
  /** A change of blade: `roughly_day` is its quiet day, before or after the day on which it would fall. */
  moved?: "before" | "after";
}

/** All that was done for a task, newest first. */
export function historyOf(task: string, dones: readonly CareDone[]): CareDone[] {
  return dones
    .filter((done) => done.task === task)
    .sort((a, b) => (a.at > b.at ? -1 : a.at < b.at ? 1 : a.id > b.id ? -1 : 1));
}

/** Pieces cut in the last four weeks of calendar days, today among them. */
export function piecesInPace(work: readonly Work[], today: string, zone: string): number {
  const first = addDays(today, 1 - PACE_DAYS);
  const early = `${addDays(first, -1)}T`; // by UTC; saves asking the zone about years of work
  let pieces = 0;
  for (const each of work) {
    if (each.at < early) continue;
    const day = dayIn(zone, each.at);
    if (day >= first && day <= today) pieces += each.pieces;
  }
  return pieces;
}

/** When is this task due? Whichever of pieces, sessions and days comes first since it was last done. */
export function dueOf(task: CareTask, facts: CareFacts): Due {
  const { today, zone } = facts;
  const history = historyOf(task.id, facts.dones);
  const lastDone = history.find((done) => done.what === "done") ?? null;
  const since = lastDone?.at ?? task.since;
  const until =
    history.find((done) => done.what === "put_off" && (since === null || done.at >= since))?.until_day ??
    null;
  const notBefore = (day: string | null): string | null =>
    day === null || until === null || day > until ? day : until;

  const after = (at: string): boolean => since === null || at > since;
  const count = (every: number | null, done: number): Count | null =>
    every === null ? null : { every, done, left: every - done };
  const pieces = count(
    task.every_pieces,
    facts.work.reduce((sum, each) => sum + (after(each.at) ? each.pieces : 0), 0),
  );
  const sessions = count(task.every_sessions, facts.sessions.filter(after).length);
  const day =
    task.every_days !== null && since !== null ? addDays(dayIn(zone, since), task.every_days) : null;

  const ends: [DueBy, string][] = [];
  if (pieces !== null) {
    const inPace = pieces.left > 0 ? piecesInPace(facts.work, today, zone) : 0;
    if (pieces.left <= 0) ends.push(["pieces", today]);
    else if (inPace > 0) ends.push(["pieces", addDays(today, Math.ceil((pieces.left * PACE_DAYS) / inPace))]);
  }
  if (sessions !== null && sessions.left <= 0) ends.push(["sessions", today]);
  if (day !== null) ends.push(["days", day]);
  let first: [DueBy, string] | null = null;
  for (const end of ends) if (first === null || end[1] < first[1]) first = end;

  return {
    task,
    is_due: first !== null && first[1] <= today && (until === null || today >= until),
    by: first?.[0] ?? (pieces ? "pieces" : sessions ? "sessions" : null),
    pieces,
    sessions,
    due_day: notBefore(day),
    roughly_day: notBefore(first?.[1] ?? null),
    put_off_until: until,
    last_done: lastDone,
  };
}

/** Due first, then by the day that each is roughly due; what nothing is known of stands last. */
export function inOrder(dues: readonly Due[]): Due[] {
  const rank = (due: Due): string => (due.is_due ? "0" : (due.roughly_day ?? "9"));
  return [...dues].sort((a, b) =>
    rank(a) < rank(b) ? -1 : rank(a) > rank(b) ? 1 : a.task.id < b.task.id ? -1 : 1,
  );
}

/** What the grinder asks, in the workshop's currency; null where the maker has not said. */
export interface GrindingCost {
  one: number | null;
  box: number | null;
  /** How many blades go in a box. */
  box_of: number;
}

export interface Box {
  waiting: number;
  is_full: boolean;
  missing: number;
  /** What sending the full box costs less than sending its blades one by one. */
  saved: number | null;
}

/** The box of blunt blades: full at `box_of`, and what that saves. */
export function boxOf(waiting: number, cost: GrindingCost): Box {
  const isFull = waiting >= cost.box_of;
  const saved = isFull && cost.one !== null && cost.box !== null ? cost.one * cost.box_of - cost.box : null;
  return {
    waiting,
    is_full: isFull,
    missing: Math.max(0, cost.box_of - waiting),
    saved: saved !== null && saved > 0 ? saved : null,
  };
}

/** Starting figures of a new task; the maker changes them. Common practice, no source. */
export interface Preset {
  what: CareTask["what"];
  for: "machine" | NonNullable<CareTask["tool"]>;
  every_pieces: number | null;
  every_sessions: number | null;
  every_days: number | null;
}

export const PRESETS: readonly Preset[] = [
  { what: "oil", for: "machine", every_pieces: 60, every_sessions: 2, every_days: 14 },
  { what: "clean", for: "machine", every_pieces: 150, every_sessions: null, every_days: 28 },
  { what: "look", for: "gouger", every_pieces: null, every_sessions: null, every_days: 60 },
  { what: "look", for: "shaper", every_pieces: null, every_sessions: null, every_days: 90 },
  { what: "grind", for: "knife", every_pieces: null, every_sessions: null, every_days: 14 },
  { what: "look", for: "reamer", every_pieces: null, every_sessions: null, every_days: 180 },
  { what: "clean", for: "mandrel", every_pieces: null, every_sessions: null, every_days: 90 },
];
