/** One jar of several: what lies in it, how long it has, where now stands on the lath. */
import { Jar } from "../drawings/Jar";
import { Lath } from "../drawings/Lath";
import { wait } from "../language/format";
import { press } from "../wet_hands/press";
import type { Standing } from "./standing";
import * as words from "./words";

export function JarRow(p: { one: Standing; onOpen: () => void }) {
  const { one } = p;
  const head =
    one.state === "over"
      ? words.named_over(one.name)
      : one.state === "ready"
        ? words.named_ready(one.name)
        : words.named_wait(one.name, one.wait_min);
  return (
    <button type="button" class="jar-row" {...press(p.onOpen)}>
      <Jar small pieces={one.soak.pieces ?? 2} wet={one.wet} width="100%" />
      <span class="jar-row-words">
        <strong class={one.state === "over" ? "alarm" : undefined}>{head}</strong>
        <span>{words.in_at(one.soak.jar, one.put_in)}</span>
        <span>
          {one.state === "in_water"
            ? words.ready_at(one.ready)
            : one.state === "over"
              ? words.over_line((one.marks.too_soft_s ?? 0) / 60)
              : `${wait(one.soak.soak_s / 60)}, ${one.by}`}
        </span>
        <SoakLath one={one} small />
        <span class="heard">{words.open_what}</span>
      </span>
    </button>
  );
}

/** The lath of a soak: the red thread only where this maker has a mark. */
export function SoakLath(p: { one: Standing; small?: boolean; nowWords?: string }) {
  const { one } = p;
  return (
    <Lath
      max_min={one.lath_min}
      now_min={one.in_min}
      mark_min={one.thread_min}
      small={p.small}
      {...(p.small
        ? {}
        : {
            nowWords: p.nowWords,
            startWords: words.zero_min,
            markWords:
              one.thread_min === null
                ? words.stands(one.soak.soak_s, one.by)
                : words.stands(
                    one.thread_min * 60,
                    one.marks.good_s === null || one.state === "over" ? words.too_soft_mark : words.your_mark,
                  ),
          })}
    />
  );
}
