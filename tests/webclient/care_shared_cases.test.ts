import { expect, test } from "vitest";
import { edgeKey, cutBy, piecesOnEdges, timelineOf } from "src/blades/rules";
import { readDone, readTask } from "src/care/model";
import type { Row, Value } from "src/logbook/model";
import { readSession } from "src/profiling/model";
import { readBatch } from "src/batches/model";
import { onQuietDays } from "src/bench_day/foreseen_quiet";
import { dayIn } from "src/language/rules";
import { cutsFrom, duesFrom, movesFrom, sessionsBegun } from "src/bench_day/care_facts";
import cases from "../shared_cases/counting.json";

interface Written {
  kind: string;
  id: string;
  fields: Record<string, Value>;
  when?: Record<string, string>;
}
interface Expected {
  edges?: { blade: string; life: number; pieces: number }[];
  cut_by?: Record<string, [string, number]>;
  care?: Record<string, Record<string, Value>>;
  sessions?: number;
}

const asRow = ({ kind, id, fields, when }: Written): Row => ({
  kind,
  id,
  fields: Object.fromEntries(
    Object.entries(fields).map(([name, value]) => [name, { value, change: name, seq: null, when: when?.[name] ?? "", back: false, saw: null }]),
  ),
});

const all = cases.cases as unknown as { name: string; now: string; time_zone: string; records: Written[]; expect: Expected }[];
const ours = all.filter(({ expect: due }) => due.edges ?? due.cut_by ?? due.care ?? due.sessions);

test("the shared cases hold edges, cuts, care and sessions", () => {
  for (const part of ["edges", "cut_by", "care", "sessions"] as const) expect(ours.some((each) => each.expect[part] !== undefined)).toBe(true);
});

test.each(ours.map((each) => [each.name, each] as const))("%s", (_, { now, time_zone, records, expect: due }) => {
  const rows = (kind: string): Row[] => records.filter((each) => each.kind === kind && each.fields["removed"] !== true).map(asRow);
  const sessions = rows("session").map(readSession);
  const cuts = cutsFrom(rows("piece"), rows("tally"), sessions, time_zone);
  const timeline = timelineOf(movesFrom(rows("blade_move")));

  if (due.edges) {
    const counts = Object.fromEntries(due.edges.map((edge) => [edgeKey(edge), edge.pieces]));
    expect(Object.fromEntries(piecesOnEdges(timeline, cuts))).toEqual(counts);
  }
  if (due.cut_by) {
    const found: Record<string, [string, number]> = {};
    for (const cut of cutsFrom(rows("piece"), [], sessions, time_zone)) {
      const edge = cutBy(timeline, cut)[0]?.edge;
      if (edge) found[cut.id] = [edge.blade, edge.life];
    }
    expect(found).toEqual(due.cut_by);
  }
  if (due.sessions !== undefined) expect(sessionsBegun(null, sessions)).toHaveLength(due.sessions);
  if (due.care) {
    const dones = rows("care_done").flatMap((row) => readDone(row) ?? []);
    const found = duesFrom({ tasks: rows("care_task").map(readTask), dones, cuts, tallies: rows("tally"), sessions }, Date.parse(now), time_zone);
    const dues = onQuietDays(found, rows("batch").map(readBatch), dayIn(time_zone, Date.parse(now)));
    for (const [task, facts] of Object.entries(due.care)) {
      const one = dues.find((each) => each.task.id === task);
      const told: Record<string, Value | undefined> = {
        due_day: one?.due_day, due_pieces_left: one?.pieces?.left ?? null, due_sessions_left: one?.sessions?.left ?? null,
        is_due: one?.is_due, roughly_day: one?.roughly_day, put_off_until: one?.put_off_until, moved: one?.moved ?? null,
      };
      expect(Object.fromEntries(Object.keys(facts).map((name) => [name, told[name]]))).toEqual(facts);
    }
  }
});
