/** The words on the Chest's drawers. */
import { clockTime, number, plural, wait } from "../language/format";

export const words = {
  drawer: {
    today: "Today",
    soak: "Soak",
    "set-up": "Set-up",
    bench: "Bench",
    batches: "Batches",
    care: "Care",
    records: "Records",
    machine: "Machine",
  },
  ready_at: (at: number) => `ready at ${clockTime(at)}`,
  soaking: (n: number | null, min: number) =>
    n === null ? `cane, ${wait(min)}` : `${number(n)} in, ${wait(min)}`,
  is_ready: (n: number | null) => (n === null ? "ready" : `${number(n)} ready`),
  nothing_in: "nothing in the water",
  to_mark: "how did they cut?",
  set_up_open: (left: number) => `${number(left)} to tick`,
  as_on: (day: string) => `as on ${day}`,
  not_yet: "not yet",
  at_piece: (n: number) => `at piece ${number(n)}`,
  planned: (n: number, batch: string) => `${number(n)} of ${batch} planned`,
  nothing_planned: "nothing planned",
  batches: (n: number) => `${number(n)} open`,
  next_stage: (batch: string, stage: string) => `${batch}: ${stage}`,
  no_batch: "none yet",
  care_due: (n: number) => plural(n, { one: `${number(n)} due`, other: `${number(n)} due` }),
  nothing_due: "nothing due",
  no_care: "nothing set yet",
  records: (n: number, day: string) => `${number(n)} on ${day}`,
  no_records: "nothing yet",
  machine: (name: string, blade: string | null) => (blade === null ? name : `${name}, blade ${blade}`),
  no_machine: "not named yet",
} as const;
