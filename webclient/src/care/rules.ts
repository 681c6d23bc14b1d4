// What is due, by which count, and roughly when?

import type { CareDone, CareTask } from "./model";

const DAY_MS = 86_400_000;
/** The pace is taken from this many calendar days. */
export const PACE_DAYS = 28;
/** So many blades in a box are usual. Common practice, no source. */
export const USUAL_BOX = 5;

const zones = new Map<string, Intl.DateTimeFormat>();

/** The calendar day ("2026-11-25") of an instant in an IANA time zone. An unreadable instant is an error. */
export function dayIn(zone: string, at: string | number): string {
  let format = zones.get(zone);
  if (format === undefined) {
    format = new Intl.DateTimeFormat("en-u-ca-gregory-nu-latn", { timeZone: zone, year: "numeric", month: "2-digit", day: "2-digit" });
    zones.set(zone, format);
  }
  const parts: Record<string, string> = {};
  for (const part of format.formatToParts(new Date(at))) parts[part.type] = part.value;
  return `${parts["year"]?.padStart(4, "0")}-${parts["month"]}-${parts["day"]}`;
}

const dayNumber = (day: string): number => Math.round(Date.parse(`${day}T00:00:00Z`) / DAY_MS);

/** A calendar day so many days on. A day is a square on the calendar: no change of the clocks touches it. */
export function addDays(day: string, days: number): string {
  return new Date((dayNumber(day) + days) * DAY_MS).toISOString().slice(0, 10);
}

export const daysBetween = (from: string, to: string): number => dayNumber(to) - dayNumber(from);

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
  left: number;
}

export interface Due {
  task: CareTask;
  is_due: boolean;
  /** Which count is over, or will be first at the present pace; null where nothing says. */
  by: DueBy | null;
  pieces: Count | null;
  sessions: Count | null;
  /** The calendar day that it is due by days. */
  day: string | null;
  /** Roughly the day that it falls due, at the present pace and not before it was put off to. */
  about_day: string | null;
  /** Put off until this day, which is still to come. */
  put_off_to: string | null;
  last_done: CareDone | null;
}

/** All that was done for a task, newest first. */
export function historyOf(task: string, dones: readonly CareDone[]): CareDone[] {
  return dones.filter((done) => done.task === task).sort((a, b) => (a.at > b.at ? -1 : a.at < b.at ? 1 : a.id > b.id ? -1 : 1));
}

/** Pieces per calendar day over the last four weeks, today among them. */
export function pacePerDay(work: readonly Work[], today: string, zone: string): number {
  const first = addDays(today, 1 - PACE_DAYS);
  const early = `${addDays(first, -1)}T`; // by UTC; saves asking the zone about years of work
  let pieces = 0;
  for (const each of work) {
    if (each.at < early) continue;
    const day = dayIn(zone, each.at);
    if (day >= first && day <= today) pieces += each.pieces;
  }
  return pieces / PACE_DAYS;
}

/** When is this task due? Whichever of pieces, sessions and days comes first since it was last done. */
export function dueOf(task: CareTask, facts: CareFacts): Due {
  const history = historyOf(task.id, facts.dones);
  const lastDone = history.find((done) => done.what === "done") ?? null;
  const since = lastDone?.at ?? task.since;
  const until = history.find((done) => done.what === "put_off" && (lastDone === null || done.at > lastDone.at))?.until_day ?? null;
  const putOffTo = until !== null && until > facts.today ? until : null;

  const after = (at: string): boolean => since === null || at > since;
  const count = (every: number | null, done: number): Count | null =>
    every === null ? null : { every, done, left: Math.max(0, every - done) };
  const pieces = count(task.every_pieces, facts.work.reduce((sum, each) => sum + (after(each.at) ? each.pieces : 0), 0));
  const sessions = count(task.every_sessions, facts.sessions.filter(after).length);
  const day = task.every_days !== null && since !== null ? addDays(dayIn(facts.zone, since), task.every_days) : null;

  const at = (left: number, pace: number): string | null =>
    left === 0 ? facts.today : pace > 0 ? addDays(facts.today, Math.ceil(left / pace)) : null;
  const perDay = task.every_pieces === null ? 0 : pacePerDay(facts.work, facts.today, facts.zone);
  const sessionsPerDay =
    task.every_sessions === null ? 0 : pacePerDay(facts.sessions.map((began) => ({ at: began, pieces: 1 })), facts.today, facts.zone);
  const candidates: [DueBy, string | null][] = [
    ["pieces", pieces && at(pieces.left, perDay)],
    ["sessions", sessions && at(sessions.left, sessionsPerDay)],
    ["days", day],
  ];
  let first: [DueBy, string] | null = null;
  for (const [by, when] of candidates) if (when !== null && (first === null || when < first[1])) first = [by, when];

  const isOver = pieces?.left === 0 || sessions?.left === 0 || (day !== null && day <= facts.today);
  const about = first === null ? null : first[1] < facts.today ? facts.today : first[1];
  return {
    task,
    is_due: isOver && putOffTo === null,
    by: first?.[0] ?? (pieces ? "pieces" : sessions ? "sessions" : null),
    pieces,
    sessions,
    day,
    about_day: about !== null && putOffTo !== null && about < putOffTo ? putOffTo : about,
    put_off_to: putOffTo,
    last_done: lastDone,
  };
}

/** Due first, then by the day that each is roughly due; what nothing is known of stands last. */
export function inOrder(dues: readonly Due[]): Due[] {
  const rank = (due: Due): string => (due.is_due ? "0" : (due.about_day ?? "9"));
  return [...dues].sort((a, b) => (rank(a) < rank(b) ? -1 : rank(a) > rank(b) ? 1 : a.task.id < b.task.id ? -1 : 1));
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
  return { waiting, is_full: isFull, missing: Math.max(0, cost.box_of - waiting), saved: saved !== null && saved > 0 ? saved : null };
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
