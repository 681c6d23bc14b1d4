/** The words on the Chest's drawers. */
import { near, number, plural, wait } from "../language/format";

export const drawer = {
  today: "Today",
  soak: "Soak",
  "set-up": "Set-up",
  bench: "Bench",
  batches: "Batches",
  care: "Care",
  records: "Records",
  machine: "Machine",
};
export const ready_at = (at: number) => `ready at ${near(at)}`;
export const soaking = (n: number | null, min: number) =>
  n === null ? `cane, ${wait(min)}` : `${number(n)} in, ${wait(min)}`;
export const is_ready = (n: number | null) => (n === null ? "ready" : `${number(n)} ready`);
export const nothing_in = "nothing in the water";
export const to_mark = "how did they cut?";
export const set_up_open = (left: number) => `${number(left)} to tick`;
export const as_earlier = "as earlier today";
export const as_on = (day: string) => `as on ${day}`;
export const not_yet = "not yet";
export const at_piece = (n: number) => `at piece ${number(n)}`;
export const through = (n: number) => `${number(n)} done`;
export const planned = (n: number | null, batch: string) =>
  `${n === null ? batch : `${number(n)} of ${batch}`} planned`;
export const nothing_planned = "nothing planned";
export const batches = (n: number) => `${number(n)} open`;
export const no_batch = "none yet";
export const care_due = (n: number) => plural(n, { one: `${number(n)} due`, other: `${number(n)} due` });
export const nothing_due = "nothing due";
export const no_care = "nothing set yet";
export const records = (n: number, day: string) => `${number(n)} on ${day}`;
export const no_records = "nothing yet";
export const machine = (name: string, blade: string | null) =>
  blade === null ? name : `${name}, blade ${blade}`;
export const no_machine = "not named yet";
