/** The last thing done to a soak, taken back: a plain control at the head, in sight as long as it can be. */
import { press } from "../wet_hands/press";
import { lastOrder } from "./state";
import * as words from "./words";

export function TakeBack() {
  const last = lastOrder.value;
  if (last === null) return null;
  return (
    <button
      type="button"
      class="scribed scribed-plain take-back"
      aria-label={words.took_back(last.what)}
      {...press(last.takeBack)}
    >
      {words.take_back}
    </button>
  );
}
