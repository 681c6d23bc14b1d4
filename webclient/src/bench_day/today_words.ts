/** The words of Today and of the first evening's questions. */
import { clockTime, number, plural, wait } from "../language/format";

const pieces = (n: number): string => `${number(n)} ${plural(n, { one: "piece", other: "pieces" })}`;

export const words = {
  today: "Today",
  title: (day: string) => `Today, ${day}`,
  ready_in: (within: string) => `${within} ready in`,
  done: (within: string) => `${within} done`,
  ready_at: (at: number) => `ready at ${clockTime(at)}`,
  ago: (min: number) => (min < 1 ? "now" : `${wait(min)} ago`),
  ready: "ready",
  others: "Also in the water",
  set_up: "Set up",
  min: "min",
  set_up_sub: "as last time, what changed",
  set_up_first: "before the first piece",
  soak: "Soak",
  soak_sub: "as last time, or something else",
  go_on: (piece: number) => `Go on: piece ${number(piece)}`,
  bench_sub: (batch: string | null) => (batch === null ? "at the bench" : `batch ${batch}`),
  to_bench: "To the bench",
  nothing_in: "Nothing is in the water.",
  batch_waits: (batch: string, day: string | null) =>
    `of ${batch} are to be soaked${day === null ? "" : `, planned for ${day}`}`,
  batch_waits_one: (batch: string) => `Batch ${batch} is next.`,
  pieces: (n: number) => plural(n, { one: "piece", other: "pieces" }),
  piece_next: (batch: string | null) => (batch === null ? "pieces are done" : `pieces of ${batch} are done`),
  paused: (at: number) => `paused since ${clockTime(at)}`,
  care_due: "Care that is due",
  care_soon: "Care",
  due_line: (name: string, by: string) => `${name}: ${by}`,
  due_now: "due",
  due_over: (n: number) => `due ${pieces(n)} ago`,
  due_since: (day: string) => `due since ${day}`,
  also: "Questions",
  saved_to_workshop: "what is written here",
  later: "Later",
  keep: "Keep",
  ready_offline: "Easelside now works on this phone with no network.",
  put_away: "Good",
  ask: {
    lot: {
      title: "Which lot of cane is it?",
      field: "lot, as it stands on the bag",
      why: "Lots are kept apart from the start: they soak and cut differently.",
    },
    machine: {
      title: "What do you call the machine?",
      field: "machine",
      why: "Its blade, stops and care are kept under this name.",
    },
    blade: {
      title: "Which blade is in it?",
      field: "blade, as it is scratched",
      why: "Pieces are counted on its edge from now on.",
    },
  },
} as const;
