/** Is what I wrote safe? One line. */

import { number } from "../language/format";
import { logbook } from "../logbook/state";
import * as words from "./words";

export function Saved() {
  const { keeping, unsent } = logbook.status.value;
  if (keeping === "not_saved")
    return (
      <strong class="alarm" role="alert">
        {words.notSaved}
      </strong>
    );
  return (
    <span class="saved">
      {keeping === "saving" ? words.saving : unsent > 0 ? words.saved(number(unsent)) : words.savedAll}
    </span>
  );
}
