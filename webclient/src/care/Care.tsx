/** What is due, first what saves money; where the blades are; and all other care. */
import type { ComponentChildren } from "preact";
import { day, money, number } from "../language/format";
import { go } from "../route";
import { press } from "../wet_hands/press";
import { Page, Scribed } from "../workshop";
import { EdgeCaution, ManualFirst, OilCaution } from "../workshop/Cautions";
import { ForeseenSlot } from "../workshop/foreseen_slot";
import type { Box, Due } from "./rules";
import { sayDone } from "./state";
import * as words from "./words";
import { dueWords } from "./words";
import "./screen.css";

export interface CareFactsShown {
  today: string;
  currency: string | null;
  dues: readonly Due[];
  nameOf: (due: Due) => string;
  box: Box;
  /** Labels of the blades in the box, and what would stay here. */
  boxed: readonly string[];
  staying: number;
  planned: number;
  /** A blade in use that is past its count. */
  bow: { label: string; pieces: number } | null;
  onSend: () => void;
  /** The blades as they lie, drawn by their own room. */
  blades: ComponentChildren;
}

/** What stands in the edge: the box, else what is due, else a look at the edge, else something new. */
function first(facts: CareFactsShown): {
  title: string;
  sub: string | null;
  next: { label: string; sub?: string; onTake: () => void };
  due: Due | null;
} {
  const due = facts.dues.find((each) => each.is_due) ?? null;
  if (facts.box.is_full) {
    const saved =
      facts.box.saved !== null && facts.currency !== null
        ? words.saved(money(facts.box.saved, facts.currency))
        : words.labels(facts.boxed);
    const sub = [words.stays(facts.staying), facts.planned > 0 ? words.planned(number(facts.planned)) : ""]
      .filter(Boolean)
      .join(", ");
    return {
      title: words.box_full(facts.box.waiting),
      sub: saved,
      next: { label: words.send_box, sub, onTake: facts.onSend },
      due: null,
    };
  }
  if (due)
    return {
      title: words.is_due(facts.nameOf(due)),
      sub: dueWords(due, facts.today),
      next: { label: words.done_now, sub: facts.nameOf(due), onTake: () => sayDone(due.task.id) },
      due,
    };
  if (facts.bow) {
    return {
      title: words.edge_due(facts.bow.label, number(facts.bow.pieces)),
      sub: words.edge_due_sub,
      next: { label: words.look_edge, onTake: () => go("set-up", "edge") },
      due: null,
    };
  }
  const add = { label: words.new_task, sub: words.new_task_sub, onTake: () => go("care", "new") };
  const soon = facts.dues[0];
  if (!soon) return { title: words.no_tasks, sub: words.no_tasks_sub, next: add, due: null };
  return {
    title: words.nothing_due,
    sub: words.next_due(facts.nameOf(soon), dueWords(soon, facts.today)),
    next: add,
    due: null,
  };
}

export function Care(p: { facts: CareFactsShown }) {
  const { facts } = p;
  const on = first(facts);
  const others = facts.dues.filter((due) => due !== on.due);
  const isOil = on.due?.task.what === "oil";
  return (
    <Page title={words.room} sub={day(facts.today)} next={on.next}>
      <section>
        <h2 class="care-first">{on.title}</h2>
        {on.sub !== null && <p class="care-first-sub">{on.sub}</p>}
      </section>
      {isOil && <OilCaution />}
      <div class="columns rooms">
        {facts.blades}
        <section class="stack">
          <h2>{others.some((due) => due.is_due) ? words.also : words.tasks}</h2>
          {facts.dues.length > 0 && (
            <ul class="ruled care-tasks">
              {facts.dues.map((due) => (
                <li key={due.task.id}>
                  <button type="button" class="care-task" {...press(() => go("care", "task", due.task.id))}>
                    <strong>{facts.nameOf(due)}</strong>
                    <span class={due.is_due ? "alarm" : undefined}>{dueWords(due, facts.today)}</span>
                    {!due.is_due && (due.pieces || due.sessions || due.moved) && (
                      <ForeseenSlot
                        of="due"
                        with={{ task: due.task.id, roughly: due.roughly_day, line: true }}
                      />
                    )}
                  </button>
                </li>
              ))}
            </ul>
          )}
          <Scribed wide label={words.new_task} sub={words.new_task_sub} onTake={() => go("care", "new")} />
        </section>
      </div>
      <EdgeCaution />
      <p class="quiet">
        {words.damp_order} {words.damp_text}
      </p>
      <ManualFirst />
    </Page>
  );
}
