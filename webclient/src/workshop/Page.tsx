/** A screen: what it is about, what there is to see, and in the bench edge the one next thing. */
import type { ComponentChildren } from "preact";
import { useEffect, useMemo, useRef } from "preact/hooks";
import { BenchEdge, type Extra, type Next } from "./BenchEdge";
import { ChestColumn } from "./Chest";
import "./page.css";

export type { Extra, Next } from "./BenchEdge";

export interface PageProps {
  title: ComponentChildren;
  sub?: ComponentChildren;
  /** stands at the right of the head on a laptop, below it on a phone */
  aside?: ComponentChildren;
  next?: Next | undefined;
  extra?: readonly Extra[] | undefined;
  /** at the bench: words 22 and up, the head made small for the count */
  bench?: boolean | undefined;
  /** classes of a screen that wants another edge or head: `:has()` would look for it anew at every tap */
  face?: string | undefined;
  /** the wall behind a slip of card */
  slip?: boolean | undefined;
  /** the title is heard only: the screen says it in its own way */
  quietTitle?: boolean | undefined;
  children: ComponentChildren;
}

export function Page(p: PageProps) {
  const head = useRef<HTMLHeadingElement>(null);
  const named = typeof p.title === "string" ? p.title : null;
  const big = p.next?.big === true;
  useEffect(() => {
    // A new screen starts at its top and is heard; focus that still stands keeps its place. At the bench only the count is new.
    if (!big) window.scrollTo(0, 0);
    const now = document.activeElement;
    if (!now || now === document.body) head.current?.focus({ preventScroll: true });
  }, [named, big]);
  // where nothing in the edge is new, it is not gone through again: a tap draws what it changes
  const edge = useMemo(() => <BenchEdge next={p.next} extra={p.extra} />, [p.next, p.extra]);
  return (
    <div
      class={["page", p.bench && "page-bench", p.slip && "page-slip", big && "page-big", p.face]
        .filter(Boolean)
        .join(" ")}
    >
      <ChestColumn />
      <main class="page-main">
        <header class={p.quietTitle ? "heard" : "page-head"}>
          <h1 ref={head} tabIndex={-1}>
            {p.title}
          </h1>
          {p.sub != null && <p class="page-sub">{p.sub}</p>}
          {p.aside != null && <p class="page-aside">{p.aside}</p>}
        </header>
        <div class="page-body">{p.children}</div>
      </main>
      {edge}
    </div>
  );
}
