/** How did they cut? Three drawings; the mark is the maker's own, and can wait. */
import { BendTest } from "../drawings/soak_marks";
import { Scribed } from "../workshop";
import { MARKS, type Mark } from "./model";
import type { Standing } from "./standing";
import * as words from "./words";
import { mark_words } from "./words";

export function HowCut(p: { one: Standing; onMark: (mark: Mark) => void }) {
  return (
    <section class="how-cut" aria-label={words.how_cut_legend}>
      <h2>{words.named_wait(p.one.name, p.one.in_min)}</h2>
      <p>{words.how_cut(p.one.out ?? 0)}</p>
      <div class="how-cut-tiles">
        {MARKS.map((mark) => (
          <Scribed
            key={mark}
            place="above"
            label={mark_words[mark]}
            ring={mark}
            drawing={<BendTest mark={mark} width={84} />}
            chosen={p.one.soak.mark === mark}
            onTake={() => p.onMark(mark)}
          />
        ))}
      </div>
    </section>
  );
}
