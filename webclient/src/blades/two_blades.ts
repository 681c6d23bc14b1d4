/** Two phones each fitted a blade in one machine: the maker has said which it is. */
import { now } from "../clock";
import { logbook } from "../logbook/state";
import type { TwoBlades } from "./rules";
import { fitBlade } from "./state";

/** Which of the two it is: the later one is confirmed, or the earlier one is fitted anew, seen over the later. */
export function sayWhich(two: TwoBlades, blade: string): void {
  if (blade === two.later.blade)
    logbook.write([{ kind: "blade_move", record: two.later.id, set: { confirmed: true } }]);
  else {
    // the other phone's clock may be a little ahead of this one's: what is said now still stands over its move
    const at = new Date(Math.max(now(), Date.parse(two.later.at) + 1)).toISOString();
    fitBlade(two.machine, two.earlier.blade, two.later.blade, { at, inside: null });
  }
}
