/** What did each edge cut, and which care is due? Joins blades, pieces, tallies, sessions and care tasks. */

import { computed } from "@preact/signals";
import {
  type Blade,
  type BladeMove,
  type Cut,
  instant,
  type ReadCut,
  readBlade,
  readMove,
  readPieceCut,
  readTallyCut,
  startedOf,
} from "../blades/model";
import { edgeKey, piecesOnEdges, type Timeline, timelineOf } from "../blades/rules";
import { type CareDone, type CareTask, readDone, readTask } from "../care/model";
import { type Due, dueOf, inOrder, STAGE_OF_TOOL, type Work } from "../care/rules";
import { minute } from "../clock";
import { timeZone } from "../language/format";
import { dayIn, noonOf } from "../language/rules";
import { WORKSHOP } from "../logbook/ids";
import type { Row } from "../logbook/model";
import { flag, num, once, text } from "../logbook/read";
import { logbook } from "../logbook/state";
import { readSession, type Session } from "../profiling/model";
import { counts } from "../profiling/rules";
import { foreseen } from "../workshop/foreseen_slot";

const pieceCut = once(readPieceCut);
const tallyCut = once(readTallyCut);
const move = once(readMove);
const isThere = <T>(value: T | null): value is T => value !== null;

export const movesFrom = (rows: readonly Row[]): BladeMove[] => rows.map(move).filter(isThere);

/** A cut, and the piece or tally that it is. */
export type NamedCut = Cut & { id: string };

/** Everything that met an edge, or counts on one. What a piece does not say, its session says. */
export function cutsFrom(
  pieces: readonly Row[],
  tallies: readonly Row[],
  sessions: readonly Session[],
  zone: string,
): NamedCut[] {
  const bySession = new Map(sessions.map((session) => [session.id, session]));
  const parted = new Map<string, ReadCut>();
  const cuts: NamedCut[] = [];
  for (const row of pieces) {
    const cut = pieceCut(row);
    if (cut === null) continue;
    if (cut.parted_from !== null) parted.set(cut.id, cut);
    const session = cut.machine === null || cut.at === null ? bySession.get(cut.record) : undefined;
    const machine = cut.machine ?? session?.machine ?? null;
    const at = cut.at ?? instant(session?.began ?? null);
    if (machine === null || at === null) continue;
    cuts.push(
      machine === cut.machine && at === cut.at && cut.parted_from === null
        ? (cut as NamedCut)
        : { ...cut, machine, at },
    );
  }
  if (parted.size > 0) placeBesideOrigins(cuts, pieces);
  for (const row of tallies) {
    const cut = tallyCut(row);
    const at = cut && (cut.at ?? (cut.day === null ? null : noonOf(cut.day, zone)));
    if (cut && at && (cut.machine !== null || cut.blade !== null))
      cuts.push({ ...cut, machine: cut.machine ?? "", at });
  }
  return cuts;
}

/** A piece that was parted from another was cut beside that one: it takes its number. */
function placeBesideOrigins(cuts: NamedCut[], pieces: readonly Row[]): void {
  const rows = new Map(pieces.map((row) => [row.id, row]));
  cuts.forEach((cut, k) => {
    let row = rows.get(cut.id);
    const met = new Set<string>();
    for (
      let from = text(row, "parted_from");
      from !== null && !met.has(from);
      from = text(row, "parted_from")
    ) {
      const origin = rows.get(from);
      if (origin === undefined) break;
      met.add(from);
      row = origin;
    }
    if (met.size > 0) cuts[k] = { ...cut, number: num(row, "number") };
  });
}

/** What a task goes by: pieces over its machine, or the stage that its tool works at. */
export function workOf(task: CareTask, cuts: readonly Cut[], tallies: readonly Row[], zone: string): Work[] {
  if (task.machine !== null) return cuts.filter((cut) => !cut.opening && cut.machine === task.machine);
  const stage = task.tool === null ? undefined : STAGE_OF_TOOL[task.tool];
  if (stage === undefined) return [];
  return tallies.flatMap((row) => {
    const day = text(row, "day");
    const at = instant(text(row, "at")) ?? (day === null ? null : noonOf(day, zone));
    return text(row, "stage") === stage && flag(row, "opening") !== true && at !== null
      ? [{ at, pieces: startedOf(row) }]
      : [];
  });
}

/** When sessions on a machine began; those joined into one stand once, on the machine of the one that stands. */
export const sessionsBegun = (machine: string | null, sessions: readonly Session[]): string[] =>
  counts(sessions).flatMap((one) =>
    one.began !== null && (machine === null || one.machine === machine) ? [one.began] : [],
  );

export interface CareRows {
  tasks: readonly CareTask[];
  dones: readonly CareDone[];
  cuts: readonly Cut[];
  tallies: readonly Row[];
  sessions: readonly Session[];
}

/** All tasks with how far off they are, the due ones first. */
export function duesFrom(rows: CareRows, now: number, zone: string): Due[] {
  const today = dayIn(zone, now);
  return inOrder(
    rows.tasks.map((task) =>
      dueOf(task, {
        dones: rows.dones,
        work: workOf(task, rows.cuts, rows.tallies, zone),
        sessions: task.machine === null ? [] : sessionsBegun(task.machine, rows.sessions),
        today,
        zone,
      }),
    ),
  );
}

/** The workshop's zone; the phone's own until it is known. */
export const zone = computed(
  (): string => timeZone.value ?? Intl.DateTimeFormat().resolvedOptions().timeZone,
);
export const today = computed((): string => dayIn(zone.value, minute.value));

const asSession = once(readSession);
export const allSessions = computed((): Session[] => logbook.rows("session").map(asSession));
export const moves = computed((): BladeMove[] => movesFrom(logbook.rows("blade_move")));
export const blades = computed((): Blade[] => logbook.rows("blade").map(readBlade));
export const timeline = computed((): Timeline => timelineOf(moves.value));
export const cuts = computed((): Cut[] =>
  cutsFrom(logbook.rows("piece"), logbook.rows("tally"), allSessions.value, zone.value),
);
const onEdges = computed(() => piecesOnEdges(timeline.value, cuts.value));

/** The key of the edge that a blade has now. */
export const edgeNow = (blade: string): string =>
  edgeKey({ blade, life: timeline.value.blades.get(blade)?.life ?? 0 });

/** What it has cut. */
export const piecesOn = (blade: string): number => onEdges.value.get(edgeNow(blade)) ?? 0;

export const labelOf = (blade: string | null): string | null =>
  blades.value.find((each) => each.id === blade)?.label ?? null;

export const tasks = computed((): CareTask[] => logbook.rows("care_task").map(readTask));
export const dones = computed((): CareDone[] => logbook.rows("care_done").map(readDone).filter(isThere));
/** Changes of blade on their quiet days, once that script is there. */
export const dues = computed((): Due[] => {
  const found = duesFrom(
    {
      tasks: tasks.value,
      dones: dones.value,
      cuts: cuts.value,
      tallies: logbook.rows("tally"),
      sessions: allSessions.value,
    },
    minute.value,
    zone.value,
  );
  return (foreseen.value?.told["dues"]?.(found) as Due[] | undefined) ?? found;
});

export const isOilDue = (machine: string | null): boolean =>
  dues.value.some(
    (due) =>
      due.is_due && due.task.what === "oil" && due.task.machine !== null && due.task.machine === machine,
  );

export const currency = computed((): string | null => text(logbook.row("workshop", WORKSHOP), "currency"));
