/** What is in the water, jar by jar; and the last ones out: how did they cut? */
import type { ComponentChildren } from "preact";
import { Drying } from "../drawings/soak_marks";
import { Caution, type Next, Page, Scribed } from "../workshop";
import { ForeseenSlot } from "../workshop/foreseen_slot";
import { HowCut } from "./HowCut";
import { JarRow } from "./JarRow";
import type { Mark } from "./model";
import type { Group } from "./rules";
import type { Standing } from "./standing";
import * as words from "./words";
import "./screen.css";

export interface JarsProps {
  sub: ComponentChildren;
  jars: readonly Standing[];
  drying: readonly Standing[];
  /** the last taken out that has no mark yet */
  toMark: Standing | null;
  onMark: (one: Standing, mark: Mark) => void;
  onOpen: (one: Standing) => void;
  onDryEnough: (one: Standing) => void;
  nextGroup: Group | null;
  now: number;
  /** the honest line about the bell */
  bell: ComponentChildren;
  clock: ComponentChildren;
  next: Next;
  aside: ComponentChildren;
  /** null: that is the next thing already */
  onMore: (() => void) | null;
  onEndRow: () => void;
}

export function Jars(p: JarsProps) {
  const first = p.jars[0] ?? p.toMark;
  return (
    <Page title={words.in_the_water} sub={p.sub} aside={p.aside} next={p.next}>
      {p.clock}
      {p.toMark && <HowCut one={p.toMark} onMark={(mark) => p.toMark && p.onMark(p.toMark, mark)} />}
      <div class="jar-rows wide">
        {p.jars.map((one) => (
          <JarRow key={one.soak.id} one={one} onOpen={() => p.onOpen(one)} />
        ))}
        {p.drying.map((one) => (
          <div key={one.soak.id} class="drying-row">
            <Drying />
            <span class="jar-row-words">
              <strong>{one.name}</strong>
              <span>{words.drying(one.soak.drying_since, p.now)}</span>
            </span>
            <Scribed label={words.dry_enough} onTake={() => p.onDryEnough(one)} />
          </div>
        ))}
      </div>
      <ForeseenSlot of="jars" with={{ jars: p.jars, drying: p.drying, group: p.nextGroup, now: p.now }} />
      {p.nextGroup && (
        <Scribed
          wide
          label={words.end_row(p.nextGroup.row[0]?.of_pieces ?? 0)}
          sub={words.end_row_sub}
          onTake={p.onEndRow}
        />
      )}
      {p.onMore && <Scribed wide label={words.put_more_in} onTake={p.onMore} />}
      {p.jars.length === 0 && <p class="soak-line">{words.nothing_in}</p>}
      <div class="soak-lines">
        {p.nextGroup && (
          <p>
            {p.nextGroup.at > p.now
              ? words.next_go_in(p.nextGroup.pieces, p.nextGroup.at)
              : words.next_due(p.nextGroup.pieces)}
          </p>
        )}
        {first && (
          <p>
            {first.marks.too_soft_s === null
              ? words.no_soft_mark(first.lot)
              : words.soft_mark(first.marks.too_soft_s / 60, first.lot)}
          </p>
        )}
        {first && first.marks.still_hard_s !== null && (
          <p>{words.hard_mark(first.marks.still_hard_s / 60, first.lot)}</p>
        )}
      </div>
      {p.jars.length > 0 && p.bell}
      {p.jars.length === 0 && <Caution order={words.mould_order} text={words.mould_text} />}
      <p class="quiet">{words.wet_by_practice}</p>
    </Page>
  );
}
