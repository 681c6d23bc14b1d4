/** The dark edge of the bench: the Chest's front, what else can be done, the one next thing, and the floor below. */
import type { ComponentChildren } from "preact";
import { useMemo } from "preact/hooks";
import { ChestFront } from "./Chest";
import { type Next, NextThing } from "./NextThing";
import { Scribed } from "./Scribed";
import * as words from "./words";
import "./edge.css";

export type { Next } from "./NextThing";

export interface Extra {
  label: ComponentChildren;
  onTake: () => void;
  name?: string | undefined;
  disabled?: boolean | undefined;
  ring?: string | undefined;
}

export function BenchEdge(p: { next?: Next | undefined; extra?: readonly Extra[] | undefined }) {
  const extra = p.extra ?? [];
  const big = p.next?.big === true;
  const rail = big || !p.next;
  const since = useMemo(() => performance.now(), [p.next?.label]);
  return (
    <section class={big ? "edge edge-big" : "edge"} aria-label={words.edge} data-since={since}>
      {big && p.next && <NextThing {...p.next} />}
      {!rail && extra.length > 0 && (
        <div class="edge-row edge-extra">
          {extra.map((e, i) => (
            <Scribed key={i} tone="light" {...e} />
          ))}
        </div>
      )}
      <div class="edge-row">
        <ChestFront next={p.next} />
        {rail
          ? extra.map((e, i) => <Scribed key={i} tone="light" {...e} />)
          : p.next && <NextThing {...p.next} />}
      </div>
      <div class="edge-floor" aria-hidden="true" />
    </section>
  );
}
