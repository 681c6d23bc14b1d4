/** The words of Today and of the first evening's questions. */
import { near, number, pieceCount, plural, wait } from "../language/format";

export const today = "Today";
export const title = (day: string) => `Today, ${day}`;
export const ready_in = (within: string) => `${within} ready in`;
export const done = (within: string) => `${within} done`;
export const ready_at = (at: number) => `ready at ${near(at)}`;
export const ago = (min: number) => (min < 1 ? "now" : `${wait(min)} ago`);
export const ready = "ready";
export const others = "Also in the water";
export const set_up = "Set up";
export const min = "min";
export const set_up_sub = "as last time, what changed";
export const set_up_first = "before the first piece";
export const soak = "Soak";
export const soak_sub = "as last time, or something else";
export const go_on = (piece: number) => `Go on: piece ${number(piece)}`;
export const bench_sub = (batch: string | null) => (batch === null ? "at the bench" : `batch ${batch}`);
export const to_bench = "To the bench";
export const wind_down = "Wind down";
export const nothing_in = "Nothing is in the water.";
export const batch_waits = (batch: string, day: string | null) =>
  `of ${batch} are to be soaked${day === null ? "" : `, planned for ${day}`}`;
export const batch_waits_one = (batch: string) => `Batch ${batch} is next.`;
export const pieces_word = (n: number) => plural(n, { one: "piece", other: "pieces" });
export const piece_next = (n: number, batch: string | null) =>
  `${pieces_word(n)}${batch === null ? "" : ` of ${batch}`} done`;
export const paused = (at: string) => `paused since ${near(at)}`;
export const care_due = "Care that is due";
export const due_today = "due today";
export const due_now = "due";
export const due_over = (n: number) => `due ${pieceCount(n)} ago`;
export const due_since = (day: string) => `due since ${day}`;
export const also = "Questions";
export const later = "Later";
export const keep = "Keep";
export const ready_offline = "Easelside now works here with no network.";
export const put_away = "All right";
export const which_lot = (jars: string) => `Which lot of cane is in jar ${jars}?`;
export const ask = {
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
};
