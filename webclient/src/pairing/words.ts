/** The words of pairing: a phone that joins, the list of devices, who is at which machine. */
import { clockTime, day, plural, wait } from "../language/format";
import type { Role } from "./model";

export const joins = "A phone joins";
export const new_here = "this phone is new here";
export const read_square = "Read the QR code on the workshop's computer.";
export const read_square_sub = "with its camera; good once, for ten minutes";
export const open_camera = "Open the camera";
export const open_camera_sub = "it looks for the QR code";
export const camera_said = "what the camera sees";
export const camera_looks = "Hold it so that the whole code is seen.";
export const camera_failed =
  "This page sees nothing by the camera. Use the phone's own camera app, or the figures.";
export const own_camera = "The phone's own camera app reads it and opens this page.";
export const shut_camera = "Shut the camera";
export const type_it = "Type its six figures:";
export const or_type = "Or type its six figures:";
export const figures_typed = (typed: string): string =>
  typed === "" ? "no figure yet" : typed.split("").join(" ");
export const take_back = "Take back";
export const then_key = "Then it has a key of its own; take it away again in Machine, Phones.";
export const join = "Join the workshop";
export const join_left = (left: number): string =>
  left === 0 ? "with these six figures" : `${left} more to type`;
export const joining = "Asking the workshop ...";
export const key_of = (figure: string): string => `figure ${figure}`;

export const not_joined: Record<string, string> = {
  code_not_taken:
    "That code does not open: it is wrong, used or too old. Three wrong ones end it; ask for a new one.",
  guessed_too_soon: "A wrong code came a moment ago.",
  "": "The workshop does not answer. Is this phone on the workshop's network?",
};
export const not_joined_else = "That did not work. Try again.";
export const wait_s = (s: number): string => `Wait ${s} s, then try again.`;

export const withdrawn = "This phone was withdrawn";
export const withdrawn_sub = "the workshop takes nothing from it";
export const withdrawn_order = "Ask the maker for a new code.";
export const waits_here = (unsent: number): string =>
  unsent === 0
    ? "Nothing waits here to be sent."
    : `${unsent} ${plural(unsent, { one: "entry waits", other: "entries wait" })} here. Nothing of it is lost: it is sent once this phone has joined again.`;
export const save_file = "Save it as a file";
export const save_file_sub = "all that this phone holds, word for word";

export const not_paired_line = "This phone has not joined the workshop";
export const withdrawn_line = "This phone was withdrawn from the workshop";
export const unsent_sub = (unsent: number): string => `${unsent} to send; all is kept here`;

export const phones = "Phones";
export const phones_sub = "who may come in";
export const no_answer = "The workshop does not answer.";
export const no_answer_sub = "Phones can be looked after only on its network. Everything else goes on here.";
export const as_hand = "This phone works here as a hand.";
export const as_hand_sub = "Codes and the list of devices are the maker's.";
export const back = "Back to the machine";

export const let_one_in = "Let a phone in";
export const let_one_in_sub = "a QR code and six figures, for ten minutes";
export const for_maker = "As maker";
export const for_maker_sub = "may do everything";
export const for_hand = "As hand";
export const for_hand_sub = "works at the bench; no codes, no withdrawing, no restoring";
export const which_role = "The next one comes in";
export const read_it = "Read it with the phone's camera";
export const square_said = "The QR code that a phone's camera reads";
export const six_figures = "Typed on the phone, these six figures let it in:";
export const figures_void = "Wrong figures were typed too often: they are void, the QR code still opens.";
export const good_for = (min: number): string => `good once, for ${wait(min)}`;
export const over = "The code was used or has ended.";
export const end_it = "End this code";
export const end_it_sub = "nobody comes in with it";
export const new_code = "A new code";
export const reachable = "Phones on the workshop's network may reach this computer";
export const reachable_sub = "off: until then no code lets anybody in";
export const not_switched = "It could not be switched. Another program may hold its port.";
export const never_here = "A phone that was never here begins with this";
export const never_here_sub = "It learns to trust the workshop first, step by step; then it reads the code.";
export const both_show = "Both must show the same:";
export const no_code = "The workshop made no code. Try again.";

export const devices = "Devices";
export const nobody = "No device has joined yet.";
export const role: Record<Role, string> = { maker: "maker", hand: "hand" };
export const this_one = "this one";
export const seen = (at: number, now: number): string => {
  const min = Math.floor((now - at) / 60_000);
  if (min < 2) return "here now";
  if (min < 60) return `here ${wait(min)} ago`;
  return `last here ${day(at)}, ${clockTime(at)}`;
};
export const withdrawn_on = (at: number): string => `withdrawn ${day(at)}`;

export const its_name = "Its name";
export const its_role = "What it may do";
export const keep = "Keep it so";
export const withdraw = "Withdraw it";
export const withdraw_sub = "it can send nothing more";
export const ask_withdraw = (name: string): string => `Withdraw ${name}?`;
export const withdraw_meanwhile =
  "Its key is void at once. What it has not sent stays on it and can be saved there as a file; a new code lets it in again.";
export const leave_it = "Leave it as it is";
export const leave_it_sub = "it goes on working";
export const take_off = "Take it off the list";
export const take_off_sub = "it is a stranger then";
export const not_done = "That was not done. Try again on the workshop's network.";

export const at_machines = "At the machines";
export const this_phone = "this phone";
export const other_phone = "another device";
export const at_machine = (machine: string, device: string, ago_min: number): string =>
  `${machine}: ${device}${ago_min < 1 ? "" : `, ${wait(ago_min)} ago`}`;
