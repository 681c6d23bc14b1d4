/** The words about machines and set-up. Figures come in ready to read. */
import { number } from "../language/format";
import { length, lengthUnit } from "../language/length";
import type { Answer, Does, Instrument, Sense, Stop } from "./model";
import type { Why } from "./rules";

/** 2.375 as "2 3/8", -0.0625 as "−1/16"; what is no sixteenth as a decimal. */
export function turns(value: number): string {
  const size = Math.abs(value) * 16;
  const all = Math.round(size);
  if (Math.abs(size - all) > 0.04) return number(value);
  let [part, of] = [all % 16, 16];
  for (; part && part % 2 === 0; of /= 2) part /= 2;
  const whole = all > 15 || !part ? number(Math.floor(all / 16)) : "";
  const said = [whole, part && `${part}/${of}`].filter(Boolean).join(" ");
  return value < 0 ? `−${said}` : said;
}

export const mm = length;
const mm2 = (value: number): string => mm(Math.round(Math.abs(value) * 100) / 100);

/** A stop as the maker writes it. */
export function stopWords(stop: Stop | null): string {
  if (stop === null) return not_written;
  if (stop.way === "words") return stop.value;
  return stop.way === "turns" ? turns(stop.value) : mm(stop.value);
}

export const does_words: Readonly<Record<Does, string>> = {
  profile: "profiles",
  gouge: "gouges",
  shape: "shapes",
  tip: "cuts tips",
  other: "something else",
};
export const instrument_words: Readonly<Record<Instrument, string>> = {
  bassoon: "bassoon",
  contrabassoon: "contrabassoon",
  oboe: "oboe",
  cor_anglais: "cor anglais",
  other: "another instrument",
};
export const sense_words: Readonly<Record<Sense, string>> = {
  clockwise: "clockwise",
  anticlockwise: "anticlockwise",
};

export const answer_words: Readonly<Record<Answer, string>> = {
  good: "good",
  needs_work: "needs work",
  not_looked: "not looked at",
};

export const room = "Set-up";
export const not_written = "not written down";
/** When it was set up last, as it follows "as": on Monday, earlier today. */
export const on_day = (day: string): string => `on ${day}`;
export const earlier_today = "earlier today";
/** The head of the slip. `day`: such a "when". */
export const head = (day: string | null, changes: readonly string[], room = "Set-up"): string =>
  day === null
    ? `${room}, the first one written down`
    : changes.length === 0
      ? `${room}, all as ${day}`
      : `${room}, as ${day}, but ${changes.join(", ")}`;
export const change = (why: Why, row: string): string =>
  why === "new_blade"
    ? "new blade"
    : why === "new_lot"
      ? "new lot"
      : why === "oil_due"
        ? "oil due"
        : why === "near_count"
          ? "edge near its count"
          : why === "setting_moved"
            ? "a screw moved"
            : row;
export const blade = (label: string): string => `blade ${label}`;
export const no_blade = "no blade written down";
export const which_blade = "Which blade is in it?";
export const which_blade_sub = "then pieces are counted on its edge";
export const near = (pieces: string): string => `${pieces} cut: look for a bow`;
export const cut = (label: string, pieces: string): string => `blade ${label}, ${pieces} cut`;
export const set_on = (value: string, day: string): string => `${value}, set ${day}`;
export const oil = "Oil the pivot";
export const never_on_cane = "never on cane";
export const template = (name: string): string => `template ${name}`;
export const lot = (label: string): string => `Lot ${label}, gouge`;
export const gouge_was = (now: string, was: string): string => `${now}, was ${was}`;
export const in_water = (minutes: string): string => `${minutes} in water`;
export const scrap_sub = "a thin clean chip";
export const others = (n: string): string => `The other ${n}`;
export const all_of_it = "All of it";
export const as_on = (day: string): string => `as ${day}`;
export const look_at_once = "to look at once";
export const fold = "Fold them away";
export const row_good = (row: string): string => `${row}: good`;
export const to_tick = (n: string): string => `${n} to tick`;
export const rest_good = (day: string | null): string =>
  day === null ? "The rest is good" : `The rest: as ${day}`;
export const all_good = (day: string): string => `All as ${day}`;
export const then_bench = "then the bench";
export const to_bench = "To the bench";
export const all_looked = "all is looked at";
export const work_left = (n: string): string => `${n} wants work`;
export const not_looked = "Not looked at";
export const back = "Back to the slip";
export const needs_work = "needs work";
export const another_machine = (name: string): string => `Set up ${name}`;
export const straight = "straight";
export const straight_sub = "no light through";
export const fingers_edge = "Keep fingers off the edge.";
export const fingers_edge_text = "Hold the back; never try an edge on skin. Not to scale.";
export const fingers_clear = "Move fingers clear first.";
export const fingers_clear_text = "The machine holds the cane, not the hand.";
export const or_scrap = "or scrap on the easel";
export const shred = "shred";
export const thin_chip = "thin chip";
export const not_to_scale = "not to scale";
export const straight_edge = "straight edge";
export const feeler = (value: string): string => `feeler ${value}`;
export const sole = "sole";
export const stands_now = "now";
export const goes_to = "then";
export const lock_nut = "lock nut";
export const hold_nut = "Hold its nut while you turn.";
// the screw
export const how_written = "How do you write it down?";
export const way_turns = "turns from a mark";
export const way_mm = (): string => `${lengthUnit()} on a gauge`;
export const way_words = "in words";
export const stands_at = "stands at";
export const turns_unit = "turns";
export const by_turns = (sense: string): string => `turn, ${sense}`;
export const stays = "as it stands";
export const per_turn = (turn: string, eighth: string): string =>
  `This screw moves ${turn} a turn; an eighth is ${eighth}.`;
export const why = "Why?";
export const why_own = "Why, in your words";
export const screw_moved = "Screw moved";
export const blade_set = "Blade set";
export const template_on = "Template on";
export const new_setting = "a new setting, with why";
export const leave = "Leave it as it is";
export const projection = "stands out by";
export const template_name = "Which template?";
export const gouge = "gouge at the centre";
export const gouge_kept = "Gouge measured";
export const gouge_sub = "kept with the lot";
export const change_blade = "Change the blade";
export const change_blade_sub = "then projection and both stops";
export const oiled = "Oiled and wiped dry";
export const not_oiled = "Runs freely, not oiled";
export const tightened = "Tight now";
export const to_soak = "To the jars";
export const row_is_good = "the row is good";
// first machine
export const first_title = "Your machine";
export const first_ask = "What do you call it?";
export const first_name = "Machine 1";
export const keep = "Keep it";
export const later = "Later";
export const first_text =
  "One name is enough. Screws, template and habits can be written down in Machine when they matter.";

/** Height in words, two digits. */
export const height = mm2;
