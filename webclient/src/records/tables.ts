/** Which columns has each table, and what stands in them? The same as the server's, in every language. */

import { num, text, texts } from "../logbook/read";
import {
  AT,
  BATCH,
  type Column,
  day,
  END,
  edges,
  type Facts,
  figure,
  ID,
  LOT,
  labelOf,
  lotOfBatch,
  MACHINE,
  machineOf,
  medianOf,
  minutesBetween,
  minutesOf,
  ofTask,
  own,
  sorted,
  stop,
  whole,
  words,
  yes,
} from "./cells";
import {
  by,
  compare,
  counts,
  type Derived,
  type Entries,
  groupBy,
  lookIn,
  OUTCOMES,
  STAGES,
  shown,
} from "./model";
import { csvText, toHundredths } from "./rules";
import { lostOf } from "./stands";

/** Each table: its kind, what it is ordered by, its columns. */
const TABLE = {
  pieces: [
    "piece",
    "at",
    [
      day("at"),
      words("session"),
      whole("number"),
      BATCH,
      LOT,
      MACHINE,
      ...edges(({ id }, { derived }) => sorted([derived.piece_edge[id]])),
      words("began"),
      words("at"),
      ["minutes", minutesOf],
      ["outcome", ({ id }, { derived }) => derived.outcome[id] ?? null],
      ["seen", (row) => texts(row, "seen").join(" ")],
      yes("fully_counted", "full"),
      ...END,
    ],
  ],
  sessions: [
    "session",
    "began",
    [
      day("began"),
      words("began"),
      words("ended"),
      MACHINE,
      [
        "batches",
        (row, facts) =>
          texts(row, "batches")
            .map((batch) => labelOf(facts, "batch", batch) ?? "")
            .join(" "),
      ],
      [
        "lots",
        (row, facts) => sorted(texts(row, "batches").map((batch) => lotOfBatch(facts, batch))).join(" "),
      ],
      ...edges((row, facts) => sorted(own(row, facts).map(({ id }) => facts.derived.piece_edge[id])), "s"),
      ...OUTCOMES.map(
        (outcome): Column => [
          outcome,
          (row, facts) => own(row, facts).filter(({ id }) => facts.derived.outcome[id] === outcome).length,
        ],
      ),
      ["minutes_a_piece", (row, facts) => medianOf(own(row, facts).map(minutesOf))],
      whole("left_in_water"),
      words("joined_to"),
      ...END,
    ],
  ],
  batches: [
    "batch",
    "planned_day",
    [
      words("label"),
      LOT,
      words("planned_day"),
      whole("pieces"),
      ...STAGES.flatMap((stage) =>
        OUTCOMES.map(
          (outcome): Column => [
            `${stage}_${outcome}`,
            ({ id }, { derived }) => derived.stands[id]?.[stage]?.[outcome] ?? null,
          ],
        ),
      ),
      yes("closed"),
      ...END,
    ],
  ],
  tallies: [
    "tally",
    "at",
    [
      day("at", true),
      words("at"),
      BATCH,
      LOT,
      words("stage"),
      MACHINE,
      ...edges(({ id }, { derived }) => derived.tally_edges[id] ?? []),
      whole("started"),
      whole("good"),
      whole("second", "second_count"),
      ["lost", lostOf],
      [
        "lost_by",
        (row) =>
          counts(row, "lost_by")
            .sort(([a], [b]) => compare(a, b))
            .map((each) => each.join(":"))
            .join(" "),
      ],
      yes("opening"),
      ...END,
    ],
  ],
  soaks: [
    "soak",
    "put_in",
    [
      day("put_in"),
      words("put_in"),
      words("taken_out"),
      ["minutes", (row) => minutesBetween(row, "put_in", "taken_out")],
      [
        "planned_minutes",
        (row) => (num(row, "soak_s") === null ? null : toHundredths(num(row, "soak_s") ?? 0, 60)),
      ],
      words("for", "purpose"),
      whole("pieces"),
      BATCH,
      LOT,
      words("jar"),
      words("water"),
      figure("water_c"),
      words("mark"),
      ...END,
    ],
  ],
  care: [
    "care_done",
    "at",
    [
      ...AT,
      words("what"),
      ["task", ofTask((task) => text(task, "words") || text(task, "what"))],
      ["machine", ofTask((task, facts) => machineOf(facts, task))],
      ["tool", ofTask((task) => text(task, "tool"))],
      words("until_day"),
      ...END,
    ],
  ],
  settings: [
    "setting",
    "at",
    [
      ...AT,
      MACHINE,
      ["blade", (row, facts) => labelOf(facts, "blade", text(row, "blade"))],
      ...stop("middle_stop"),
      ...stop("shoulder_stop"),
      figure("projection_mm"),
      words("template"),
      words("why"),
      ID,
    ],
  ],
  machines: [
    "machine",
    "name",
    [
      words("name"),
      words("does"),
      words("instrument"),
      words("template"),
      words("turn_habit"),
      yes("counts_turns"),
      ...["middle_", "shoulder_"].flatMap((at) => [
        words(`${at}thread`),
        words(`${at}lowers`),
        figure(`${at}wanted_mm`),
        yes(`${at}wanted_wet`),
        figure(`${at}give_mm`),
      ]),
      whole("bow_after_pieces"),
      whole("good_pieces"),
      yes("watch_keener"),
      ["watch_rules", (row) => texts(row, "watch_rules").join(", ")],
      ...END,
    ],
  ],
  readings: [
    "reading",
    "at",
    [
      ...AT,
      MACHINE,
      BATCH,
      LOT,
      words("piece"),
      words("point"),
      figure("value_mm"),
      yes("wet"),
      figure("minutes_since_cut"),
      ...END,
    ],
  ],
} as const satisfies Record<string, readonly [string, string, readonly Column[]]>;

export type TableName = keyof typeof TABLE;
export const TABLES = Object.keys(TABLE) as TableName[];

/** The whole table as RFC 4180 text, oldest first; records that were removed are left out. */
export function tableText(
  name: TableName,
  entries: Entries,
  derived: Derived,
  dayOf: Facts["dayOf"],
): string {
  const [kind, order, columns]: readonly [string, string, readonly Column[]] = TABLE[name];
  const done = shown(entries, "piece").filter(({ id }) => derived.outcome[id]);
  const pieces = groupBy(done, (piece) => [text(piece, "session")]);
  const facts: Facts = { derived, dayOf, look: lookIn(entries), pieces };
  const rows = shown(entries, kind).sort(by(order));
  return csvText(
    columns.map(([head]) => head),
    rows.map((row) => columns.map(([, read]) => read(row, facts))),
  );
}
