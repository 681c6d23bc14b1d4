/** What stands in each row of each table? The maker's own words, and what follows from them. */

import { HEADERS, type TableName } from "./columns";
import {
  type Cell,
  count,
  type Derived,
  type Entries,
  type Entry,
  type Fields,
  flag,
  instant,
  number,
  numbers,
  OUTCOMES,
  STAGES,
  text,
  texts,
} from "./model";
import { csvText, toHundredths } from "./rules";

/** The calendar day of an instant (milliseconds) in the workshop. */
export type DayOf = (at: number) => string;

type Row = readonly Cell[];
type Look = (kind: string, id: string | null) => Fields;

interface Facts {
  entries: Entries;
  derived: Derived;
  dayOf: DayOf;
  look: Look;
}

const NOTHING: Fields = {};

/** The whole table as RFC 4180 text, oldest first; records that were removed are left out. */
export function tableText(name: TableName, entries: Entries, derived: Derived, dayOf: DayOf): string {
  const known = new Map<string, Fields>();
  for (const [kind, found] of Object.entries(entries))
    for (const { id, fields } of found) known.set(`${kind}/${id}`, fields);
  const facts: Facts = {
    entries,
    derived,
    dayOf,
    look: (kind, id) => known.get(`${kind}/${id ?? ""}`) ?? NOTHING,
  };
  return csvText(HEADERS[name], WRITERS[name](facts));
}

function rows(facts: Facts, kind: string, by: string, write: (fields: Fields, id: string) => Row): Row[] {
  const shown = (facts.entries[kind] ?? []).filter(({ fields }) => fields["removed"] !== true);
  const keyed = shown.map((entry) => ({ entry, key: text(entry.fields, by) ?? "" }));
  keyed.sort((a, b) => compare(a.key, b.key) || compare(a.entry.id, b.entry.id));
  return keyed.map(({ entry }) => write(entry.fields, entry.id));
}

const compare = (a: string, b: string): number => (a < b ? -1 : a > b ? 1 : 0);

const WRITERS: Record<TableName, (facts: Facts) => Row[]> = {
  pieces,
  sessions,
  batches,
  tallies,
  soaks,
  care,
  settings,
};

function day(facts: Facts, fields: Fields, name: string): string | null {
  const at = instant(fields, name);
  return at === null ? text(fields, "day") : facts.dayOf(at);
}

const batchOf = ({ look }: Facts, fields: Fields): string | null =>
  text(look("batch", text(fields, "batch")), "label");

const lotOf = ({ look }: Facts, fields: Fields): string | null =>
  text(look("lot", text(fields, "lot") ?? text(look("batch", text(fields, "batch")), "lot")), "label");

const machineOf = ({ look }: Facts, fields: Fields): string | null =>
  text(
    look("machine", text(fields, "machine") ?? text(look("session", text(fields, "session")), "machine")),
    "name",
  );

/** To the hundredth; null where they are not said so. */
export function minutesBetween(fields: Fields, first: string, last: string): number | null {
  const [start, end] = [instant(fields, first), instant(fields, last)];
  return start === null || end === null || end < start ? null : toHundredths(end - start, 60_000);
}

function pieces(facts: Facts): Row[] {
  const { derived } = facts;
  return rows(facts, "piece", "at", (f, id) => [
    day(facts, f, "at"),
    text(f, "session"),
    count(f, "number"),
    batchOf(facts, f),
    lotOf(facts, f),
    machineOf(facts, f),
    derived.piece_edge[id] ?? null,
    text(f, "began"),
    text(f, "at"),
    minutesBetween(f, "began", "at"),
    derived.outcome[id] ?? null,
    texts(f, "seen").join(" "),
    flag(f, "full"),
    text(f, "note"),
    id,
  ]);
}

function sessions(facts: Facts): Row[] {
  const { derived, look } = facts;
  const bySession = new Map<string, Entry[]>();
  for (const piece of facts.entries["piece"] ?? []) {
    if (piece.fields["removed"] === true) continue;
    const session = text(piece.fields, "session") ?? "";
    const found = bySession.get(session);
    if (found) found.push(piece);
    else bySession.set(session, [piece]);
  }
  return rows(facts, "session", "began", (f, id) => {
    const own = bySession.get(id) ?? [];
    const taken = own
      .map(({ fields }) => minutesBetween(fields, "began", "at"))
      .filter((m): m is number => m !== null);
    const sum = Math.round(taken.reduce((total, minutes) => total + minutes, 0) * 100) / 100;
    const its = texts(f, "batches");
    const lots = its.map((batch) => text(look("lot", text(look("batch", batch), "lot")), "label") ?? "");
    const edges = own
      .map((piece) => derived.piece_edge[piece.id])
      .filter((edge): edge is string => edge !== undefined);
    return [
      day(facts, f, "began"),
      text(f, "began"),
      text(f, "ended"),
      machineOf(facts, f),
      its.map((batch) => text(look("batch", batch), "label") ?? "").join(" "),
      sorted(lots).join(" "),
      sorted(edges).join(" "),
      ...OUTCOMES.map((outcome) => own.filter((piece) => derived.outcome[piece.id] === outcome).length),
      taken.length ? toHundredths(sum, taken.length) : null,
      count(f, "left_in_water"),
      text(f, "joined_to"),
      text(f, "note"),
      id,
    ];
  });
}

const sorted = (words: readonly string[]): string[] => [...new Set(words)].sort(compare);

function batches(facts: Facts): Row[] {
  return rows(facts, "batch", "planned_day", (f, id) => {
    const stands = facts.derived.stands[id] ?? {};
    const came = STAGES.flatMap((stage): Cell[] =>
      OUTCOMES.map((outcome) => stands[stage]?.[outcome] ?? null),
    );
    return [
      text(f, "label"),
      lotOf(facts, f),
      text(f, "planned_day"),
      count(f, "pieces"),
      ...came,
      flag(f, "closed"),
      text(f, "note"),
      id,
    ];
  });
}

function tallies(facts: Facts): Row[] {
  return rows(facts, "tally", "at", (f, id) => {
    const lost = Object.entries(numbers(f, "lost_by")).sort(([a], [b]) => compare(a, b));
    return [
      text(f, "day") ?? day(facts, f, "at"),
      text(f, "at"),
      batchOf(facts, f),
      lotOf(facts, f),
      text(f, "stage"),
      machineOf(facts, f),
      (facts.derived.tally_edges[id] ?? []).join(" "),
      count(f, "started"),
      count(f, "good"),
      count(f, "second_count"),
      lost.reduce((sum, [, n]) => sum + n, 0),
      lost.map(([fault, n]) => `${fault}:${n}`).join(" "),
      flag(f, "opening"),
      text(f, "note"),
      id,
    ];
  });
}

function soaks(facts: Facts): Row[] {
  return rows(facts, "soak", "put_in", (f, id) => {
    const planned = number(f, "soak_s");
    return [
      day(facts, f, "put_in"),
      text(f, "put_in"),
      text(f, "taken_out"),
      minutesBetween(f, "put_in", "taken_out"),
      planned === null ? null : toHundredths(planned, 60),
      text(f, "purpose"),
      count(f, "pieces"),
      batchOf(facts, f),
      lotOf(facts, f),
      text(f, "jar"),
      text(f, "water"),
      number(f, "water_c"),
      text(f, "mark"),
      text(f, "note"),
      id,
    ];
  });
}

function care(facts: Facts): Row[] {
  return rows(facts, "care_done", "at", (f, id) => {
    const task = facts.look("care_task", text(f, "task"));
    return [
      day(facts, f, "at"),
      text(f, "at"),
      text(f, "what"),
      text(task, "words") ?? text(task, "what"),
      machineOf(facts, task),
      text(task, "tool"),
      text(f, "until_day"),
      text(f, "note"),
      id,
    ];
  });
}

function settings(facts: Facts): Row[] {
  return rows(facts, "setting", "at", (f, id) => [
    day(facts, f, "at"),
    text(f, "at"),
    machineOf(facts, f),
    text(facts.look("blade", text(f, "blade")), "label"),
    ...stop(f, "middle_stop"),
    ...stop(f, "shoulder_stop"),
    number(f, "projection_mm"),
    text(f, "template"),
    text(f, "why"),
    id,
  ]);
}

function stop(fields: Fields, name: string): [Cell, Cell] {
  const found = fields[name];
  if (typeof found !== "object" || found === null || Array.isArray(found)) return [null, null];
  const { value, way } = found;
  return [
    typeof value === "number" || typeof value === "string" ? value : null,
    typeof way === "string" ? way : null,
  ];
}
