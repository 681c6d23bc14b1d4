/** Which columns has each table, and what stands in them? The same as the server's, in every language. */

import type { Row } from "../logbook/model";
import { dict, flag, num, text, texts } from "../logbook/read";
import {
  type Cell,
  compare,
  count,
  counts,
  type Derived,
  type Entries,
  groupBy,
  instant,
  type Look,
  lookIn,
  OUTCOMES,
  STAGES,
  shown,
} from "./model";
import { csvText, toHundredths } from "./rules";
import { lostOf } from "./stands";

interface Facts {
  derived: Derived;
  look: Look;
  /** the calendar day of an instant (milliseconds) in the workshop */
  dayOf: (at: number) => string;
  pieces: ReadonlyMap<string, readonly Row[]>;
}

/** A column's name, and how its cell is read. */
type Column = readonly [string, (row: Row, facts: Facts) => Cell];

const words = (name: string, field = name): Column => [name, (row) => text(row, field)];
const whole = (name: string, field = name): Column => [name, (row) => count(row, field)];
const figure = (name: string): Column => [name, (row) => num(row, name)];
const yes = (name: string, field = name): Column => [name, (row) => flag(row, field)];

const day = (field: string, said = false): Column => [
  "day",
  (row, { dayOf }) => {
    const at = instant(row, field);
    const known = text(row, "day");
    return (said && known) || (at === null ? known : dayOf(at));
  },
];

const AT: readonly Column[] = [day("at"), words("at")];
const ID: Column = ["id", (row) => row.id];
const NOTE = words("note");
const END = [NOTE, ID];
const labelOf = ({ look }: Facts, kind: string, id: string | null): string | null =>
  text(look(kind, id), "label");
const lotOfBatch = (facts: Facts, id: string | null): string | null =>
  labelOf(facts, "lot", text(facts.look("batch", id), "lot"));
const machineOf = ({ look }: Facts, row: Row | undefined): string | null =>
  text(
    look("machine", text(row, "machine") ?? text(look("session", text(row, "session")), "machine")),
    "name",
  );

const BATCH: Column = ["batch", (row, facts) => labelOf(facts, "batch", text(row, "batch"))];
const LOT: Column = [
  "lot",
  (row, facts) =>
    text(row, "lot") ? labelOf(facts, "lot", text(row, "lot")) : lotOfBatch(facts, text(row, "batch")),
];
const MACHINE: Column = ["machine", (row, facts) => machineOf(facts, row)];

/** To the hundredth; null where they are not said so. */
export function minutesBetween(row: Row, first: string, last: string): number | null {
  const [start, end] = [instant(row, first), instant(row, last)];
  return start === null || end === null || end < start ? null : toHundredths(end - start, 60_000);
}

/** Minutes a piece, to the hundredth. */
export function meanOf(minutes: readonly (number | null)[]): number | null {
  const taken = minutes.filter((each): each is number => each !== null);
  const sum = taken.reduce((total, each) => total + each, 0);
  return taken.length > 0 ? toHundredths(Math.round(sum * 100) / 100, taken.length) : null;
}

const own = (row: Row, { pieces }: Facts): readonly Row[] => pieces.get(row.id) ?? [];

const sorted = (all: readonly (string | null | undefined)[]): string[] =>
  [...new Set(all.filter((one) => one !== undefined).map((one) => one ?? ""))].sort(compare);

/** Blade and edge in a column each: a spreadsheet takes 3/1 for a day. `s`: of several, in the same order. */
const edges = (of: (row: Row, facts: Facts) => readonly string[], s = ""): Column[] =>
  [0, 1].map((part) => [
    (part ? "edge" : "blade") + s,
    (row, facts) =>
      of(row, facts)
        .map((key) => key.split(/\/(?=[^/]*$)/)[part])
        .join(" "),
  ]);

const ofTask =
  (read: (task: Row | undefined, facts: Facts) => Cell) =>
  (row: Row, facts: Facts): Cell =>
    read(facts.look("care_task", text(row, "task")), facts);

function stop(name: string): Column[] {
  return [
    [
      name,
      (row) => (typeof dict(row, name).value === "object" ? null : ((dict(row, name).value ?? null) as Cell)),
    ],
    [
      `${name}_way`,
      (row) => (typeof dict(row, name).way === "string" ? (dict(row, name).way as string) : null),
    ],
  ];
}

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
      ["minutes", (row) => minutesBetween(row, "began", "at")],
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
      [
        "minutes_a_piece",
        (row, facts) => meanOf(own(row, facts).map((piece) => minutesBetween(piece, "began", "at"))),
      ],
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
  const [kind, by, columns]: readonly [string, string, readonly Column[]] = TABLE[name];
  const pieces = groupBy(shown(entries, "piece"), (piece) => [text(piece, "session")]);
  const facts: Facts = { derived, dayOf, look: lookIn(entries), pieces };
  const rows = shown(entries, kind).sort(
    (a, b) => compare(text(a, by) ?? "", text(b, by) ?? "") || compare(a.id, b.id),
  );
  return csvText(
    columns.map(([head]) => head),
    rows.map((row) => columns.map(([, read]) => read(row, facts))),
  );
}
