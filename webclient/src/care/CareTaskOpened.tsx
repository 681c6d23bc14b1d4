/** One task: how far off it is, done, put off, how often, and what was done. */
import { day } from "../language/format";
import { addDays } from "../language/rules";
import { go } from "../route";
import { Caution, Page, Scribed } from "../workshop";
import { EdgeCaution, ManualFirst, OilCaution } from "../workshop/Cautions";
import { ForeseenSlot } from "../workshop/foreseen_slot";
import type { CareDone } from "./model";
import type { Due } from "./rules";
import { notDone, putOff, removeTask, sayDone } from "./state";
import * as words from "./words";
import { dueWords, everyWords } from "./words";
import "./screen.css";

export function CareTaskOpened(p: { due: Due; name: string; today: string; history: readonly CareDone[] }) {
  const { due, today } = p;
  const back = (): void => go("care");
  const later = (days: number): void => {
    putOff(due.task.id, addDays(today, days));
    back();
  };
  const done = (): void => {
    sayDone(due.task.id);
    back();
  };
  return (
    <Page
      title={p.name}
      sub={everyWords(due.task)}
      next={{ label: words.done_now, sub: words.done_sub, onTake: done }}
      extra={[{ label: words.back, onTake: back }]}
    >
      <p class={due.is_due ? "care-first alarm" : "care-first"}>
        <strong>{dueWords(due, today)}</strong>
      </p>
      {!due.is_due && <ForeseenSlot of="due" with={{ task: due.task.id, roughly: due.roughly_day }} />}
      {due.task.what === "oil" && <OilCaution />}
      {["look", "change", "grind"].includes(due.task.what) && <EdgeCaution />}
      {due.task.what === "clean" && <Caution order={words.damp_order} text={words.damp_text} />}
      <section class="stack">
        <h2>{words.put_off_ask}</h2>
        <div class="thirds">
          <Scribed label={words.day_1} onTake={() => later(1)} />
          <Scribed label={words.day_7} onTake={() => later(7)} />
          <Scribed label={words.day_14} onTake={() => later(14)} />
        </div>
      </section>
      <section class="stack">
        <h2>{words.history}</h2>
        {p.history.length === 0 ? (
          <p>{words.none_done}</p>
        ) : (
          <ul class="ruled">
            {p.history.slice(0, 20).map((each, k) => (
              <li key={each.id} class="care-done">
                <span>
                  <strong>{day(each.at)}</strong>{" "}
                  {each.what === "done"
                    ? words.done
                    : words.put_off(each.until_day === null ? "" : day(each.until_day))}
                </span>
                {k === 0 && <Scribed label={words.take_back} onTake={() => notDone(each.id)} />}
              </li>
            ))}
          </ul>
        )}
      </section>
      <div class="stack">
        <Scribed
          wide
          label={words.change_it}
          sub={everyWords(due.task)}
          onTake={() => go("care", "change", due.task.id)}
        />
        <Scribed
          wide
          label={words.remove}
          onTake={() => {
            removeTask(due.task.id);
            back();
          }}
        />
      </div>
      <ManualFirst />
    </Page>
  );
}
