/** The words about blades. Figures come in ready to read. */
import { list } from "../language/format";

export const blades = "Blades";
export const change = "Blade change";
export const change_sub = (machine: string, at: string): string => `${machine}, ${at}`;
export const out_in = (out: string, into: string): string => `Blade ${out} out, blade ${into} in`;
export const first_in = (into: string): string => `Blade ${into} goes in`;
export const which_in = "Which blade goes in?";
export const out_only = "Take it out, none goes in";
export const blade = (label: string): string => `blade ${label}`;
export const new_edge = "a fresh edge";
export const cut_so_far = (n: string): string => `${n} cut`;
export const new_blade = "A new blade";
export const new_blade_label = "What is scratched on it?";
export const new_blade_sub = "a number or a word; one field is enough";
export const keep_new = "This one goes in";
export const undoes = "It undoes three settings:";
export const undone = {
  projection: "projection",
  middle_stop: "middle stop",
  shoulder_stop: "shoulder stop",
};
export const afresh = "Set afresh with scrap: an hour, and patience.";
export const planned = (pieces: string, when: string): string => `${pieces} planned ${when}`;
export const today = "today";
export const tomorrow = "tomorrow";
export const so_today = ": a change takes an hour.";
export const so_tomorrow = ": so do it today.";
export const under_way = "A session is under way on this machine: close it first, or say at which piece.";
export const when = "When was it?";
export const now = "now";
export const now_sub = "before the next piece";
export const after = (day: string, pieces: string): string => `after ${day}’s ${pieces}`;
export const keeps_all = (blade: string, n: string): string => `blade ${blade} keeps all ${n}`;
export const cut_none = (blade: string): string => `blade ${blade} has cut none`;
export const tap_other = (edge: string): string => `${edge}; tap for another`;
export const goes_to = (n: string, blade: string): string => `${n} go to blade ${blade}`;
export const inside = "it was at piece";
export const inside_of = (what: string): string => `within ${what}`;
export const also_later = "Whatever was cut after it moves too.";
export const stay_move = (stay: string, out: string, move: string, into: string): string =>
  `${stay} stay with ${out}, ${move} move to blade ${into}`;
export const earlier = "An earlier one";
export const another_time = "another day";
export const on_day = "On which day?";
export const at_time = "at what time?";
export const change_now = "Change it now";
export const change_late = "Write the change in";
export const then_set = "then: projection, both stops";
export const counts_follow = "all counts follow";
export const take_out = "Take it out";
export const no_other = "There is no other blade here yet.";
export const back = "Leave it in";
export const later = "Later";
// the shelf
export const in_use = "in use";
export const ready = "ready";
export const away = "away";
export const since = (day: string): string => `since ${day}`;
export const send_one = (label: string): string => `Send blade ${label}`;
export const back_sharp = "Back, ground";
export const came_back = (labels: readonly string[]): string => `blade ${list(labels)} away`;
export const ground_here = "Ground here";
export const retire = "It is used up";
export const taken_out = "Take it out";
export const never = "It never was";
export const label_taken = "Another blade has this label.";
export const fit = "Fit it";
export const opening = "It has cut already";
export const opening_sub = "before it was counted here";
export const opened = (n: string): string => `${n} of them written as opening`;
export const history = "What happened to it";
export const life = (n: string): string => `edge ${n}`;
export const what = {
  fitted: "fitted",
  taken_out: "taken out",
  sent: "sent to be ground",
  back: "back",
  ground: "ground",
  retired: "used up",
};
export const take_back = "It did not happen";
export const to_care = "Back to care";
// two blades
export const two_title = "Two blades in one machine?";
