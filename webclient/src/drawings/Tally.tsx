/** How many so far? Pencil strokes, the fifth across. */
import type { ComponentChildren } from "preact";
import "./drawings.css";
import { col, path, type Titled } from "./line";
import { drawn, hand, stroke } from "./wobble";

export function Tally(
  p: Titled & {
    n: number /** strokes from here on stand in red */;
    thread?: number | undefined;
    h?: number | undefined;
  },
) {
  const n = drawn(p.n);
  const h = p.h ?? 30;
  const g = 9;
  const pen = hand(n > 0 ? 5 : 4);
  const strokes = Array.from({ length: n }, (_, i) => {
    const x = 6 + Math.floor(i / 5) * (g * 5 + 8);
    const m = i % 5;
    return m < 4
      ? stroke(pen, x + m * g, 3 + pen.about(1.5), x + m * g + pen.about(1.5), h - 2, 0.7)
      : stroke(pen, x - 6, h - 5, x + 3 * g + 7, 5, 0.7);
  });
  const last = strokes.pop();
  const width = Math.max(1, Math.ceil(n / 5)) * (g * 5 + 8) + 4;
  return (
    // biome-ignore lint/a11y/noSvgWithoutTitle: named by aria-label, or hidden
    <svg
      class="tally"
      viewBox={`0 0 ${width} ${h}`}
      preserveAspectRatio="xMinYMid meet"
      width={width}
      {...(p.title ? { role: "img" as const, "aria-label": p.title } : { "aria-hidden": true })}
    >
      {strokes.length > 0 && path(strokes.join(""), col("ink"), 3.4, "none", { "stroke-linecap": "round" })}
      {last && (
        <path
          key={n}
          class="tally-new"
          d={last}
          pathLength={1}
          fill="none"
          stroke={col("ink")}
          stroke-width={3.4}
          stroke-linecap="round"
        />
      )}
      {p.thread != null &&
        path(
          `M${6 + Math.floor(p.thread / 5) * (g * 5 + 8) + (p.thread % 5) * g - g / 2} -5V${h + 5}`,
          col("red"),
          3.2,
        )}
    </svg>
  );
}

/** The tally on its piece of wood, with its words at the right. */
export function TallyLath(p: { n: number; label: ComponentChildren }) {
  return (
    <div class="tally-lath">
      <Tally n={p.n} />
      <strong>{p.label}</strong>
    </div>
  );
}
