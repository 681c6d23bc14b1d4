/** The words of the machine's own screen: its screws, habits, this phone, the workshop. */
import { turns } from "./words";

/** The words of the machine's own screen, and of what is set on this phone and in the workshop. */
export const does = (does: string, instrument: string): string => `${does}, ${instrument}`;
export const turns_of = (value: number): string =>
  `${turns(value)} ${Math.abs(value) > 0 && Math.abs(value) <= 1 ? "turn" : "turns"}`;
export const middle = "middle stop";
export const shoulder = "shoulder stop";
export const proud = "proud";
export const kept = "Kept whole, newest first";
export const none_kept = "Nothing written down yet. The first screw moved makes the first slip.";
export const now = "now";
export const blade_why = (blade: string | null, why: string | null): string =>
  [blade, why].filter(Boolean).join(", ");
/** In their order where all are known; with their names where one is missing. */
export const values = (proud: string | null, middle: string | null, shoulder: string | null): string =>
  proud !== null && middle !== null && shoulder !== null
    ? [proud, middle, shoulder].join("; ")
    : [
        proud === null ? "" : `${proud} proud`,
        middle === null ? "" : `middle ${middle}`,
        shoulder === null ? "" : `shoulder ${shoulder}`,
      ]
        .filter((part) => part !== "")
        .join("; ");
export const back_to = "Back to this one";
export const of_other_blade = "it was set with another blade";
export const take_back = "Take back";
export const undone = "undone by the blade change";
export const back_why = (day: string): string => `back to ${day}`;
export const open_slip = (day: string): string => `See the slip of ${day}`;
export const note_why = "Note why";
export const note_why_sub = "of the setting that stands";
export const why = "Why does it stand like this?";
export const keep_why = "Keep the reason";
export const move = "Move a screw";
export const move_sub = "a new setting, with why";
export const write_down = "Write it down";
export const write_down_sub = "the first screw";
export const screws = "Screws and threads";
export const screws_none = "the thread says how far a turn goes";
export const name_and_habits = "Name and habits";
export const turn_passes = "turned every pass or two";
export const turn_halves = "one half first";
export const this_phone = "This phone";
export const this_phone_sub = "day or night, hand, voice, pedal";
export const phones = "Phones";
export const phones_sub = "let one in, who may come in";
export const workshop = "Workshop";
export const workshop_sub = "soaking habit, stages, lengths, money";
export const new_machine = "Another machine";
export const new_machine_sub = "one name is enough";
export const back = "Back to the machine";
// screws
export const middle_thread = "Thread of the middle stop";
export const shoulder_thread = "Thread of the shoulder stop";
export const thread_sub = "M4, M4x0.5, #8-32 UNC, 0.5 mm, 40 tpi";
export const thread_wrong = "This says no pitch. M4, M4x0.5, #8-32 UNC, 0.5 mm, 40 tpi are understood.";
export const lowers = (stop: string): string => `Which way lowers the ${stop}?`;
export const marks = "Turns are counted clockwise from the maker's mark.";
// habits
export const name = "Name";
export const what = "What does it do?";
export const instrument = "For which instrument?";
export const template = "Template";
export const habit = "How do you turn the piece?";
export const habit_passes = "Every pass or two";
export const habit_passes_sub = "so that no ridge stays at the middle";
export const habit_halves = "One half first";
export const habit_halves_sub = "then the other";
export const counts_turns = "Count turns at the bench";
export const counts_turns_sub = "one tap a turn; else one tap a piece";
export const bow = "look for a bow after";
export const pieces = "pieces";
export const note = "Note";
// this phone
export const look = "Day or night";
export const look_phone = "as the phone";
export const look_day = "day";
export const look_night = "night";
export const hand = "Which hand taps?";
export const right = "right";
export const left = "left";
export const speaks = "This phone speaks";
export const speaks_count = "It says each count at the bench";
export const speaks_sub = "soaks that are ready, the pedal's frame";
export const phone_name = "Name of this phone";
// workshop
export const workshop_name = "Name of the workshop";
export const soak_habit = "How do you soak?";
export const warm = "warm";
export const cold = "cold";
export const overnight = "overnight";
export const warm_s = "in warm water";
export const cold_s = "in cold water";
export const overnight_s = "overnight";
export const min = "min";
export const hours = "hours";
export const lengths = "Lengths on the screen";
export const millimetres = "millimetres";
export const inches = "inches, thousandths";
export const zone = "Time zone";
export const currency = "Currency";
export const currency_none = "none";
export const grind_one = "Grinding one blade costs";
export const grind_box = "Grinding a full box costs";
export const grind_of = "blades in a full box";
export const cost_sub = "a number; the box then says what it saves";
export const stages = "Your order of the stages";
export const stages_sub = "tap one to move it up; some shape before profiling";
export const move_up = "one place up";
