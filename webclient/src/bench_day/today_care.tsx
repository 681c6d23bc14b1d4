/** Care that is due, on Today: one line each, with its count. */

import type { Due } from "../care/rules";
import { day as dayText, number } from "../language/format";
import { go } from "../route";
import { press } from "../wet_hands/press";
import { dues, today } from "./care_facts";
import { dueName } from "./care_names";
import * as words from "./today_words";

export function CareDue() {
  const due = dues.value.filter((each) => each.is_due);
  if (due.length === 0) return null;
  return (
    <section aria-label={words.care_due}>
      <h2>{words.care_due}</h2>
      <ul class="today-care">
        {due.map((each) => (
          <li key={each.task.id}>
            <button type="button" class="today-care-row" {...press(() => go("care"))}>
              <strong>{dueName(each)}</strong> <span>{since(each)}</span>
            </button>
          </li>
        ))}
      </ul>
    </section>
  );
}

function since(due: Due): string {
  if (due.by === "pieces" && due.pieces !== null && due.pieces.left < 0)
    return words.due_over(-due.pieces.left);
  if (due.by === "days" && due.due_day !== null)
    return due.due_day >= today.value ? words.due_today : words.due_since(dayText(due.due_day));
  return due.pieces === null ? words.due_now : `${words.due_now}, ${number(due.pieces.done)}`;
}
