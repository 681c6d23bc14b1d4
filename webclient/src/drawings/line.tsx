/** The pens: a sheet to draw on, and path, line, rectangle, circle in the look's colours. */
import type { ComponentChildren, VNode } from "preact";

export const col = (name: string): string => `var(--${name})`;
export const OUTLINE = col("outline");
export const LINE = col("line");

export interface Titled {
  /** said by a screen reader; without it the drawing is hidden from one */
  title?: string | undefined;
}

export function Sheet(
  p: Titled & {
    w: number;
    h: number;
    x?: number | undefined;
    y?: number | undefined;
    width?: number | string | undefined;
    kind?: string | undefined;
    children: ComponentChildren;
  },
) {
  return (
    // biome-ignore lint/a11y/noSvgWithoutTitle: named by aria-label, or hidden
    <svg
      class={p.kind ? `drawing ${p.kind}` : "drawing"}
      viewBox={`${p.x ?? 0} ${p.y ?? 0} ${p.w} ${p.h}`}
      width={p.width ?? "100%"}
      {...(p.title ? { role: "img" as const, "aria-label": p.title } : { "aria-hidden": true })}
    >
      {p.children}
    </svg>
  );
}

type More = Record<string, string | number | undefined>;

export const path = (d: string, line = OUTLINE, width = 2.4, fill = "none", more: More = {}): VNode => (
  <path d={d} fill={fill} stroke={line} stroke-width={width} {...more} />
);
export const line = (
  x1: number,
  y1: number,
  x2: number,
  y2: number,
  colour = OUTLINE,
  width = 2.4,
  more: More = {},
): VNode => path(`M${x1} ${y1}L${x2} ${y2}`, colour, width, "none", more);
export const rect = (
  x: number,
  y: number,
  w: number,
  h: number,
  fill: string,
  colour = "none",
  width = 0,
  more: More = {},
): VNode => (
  <rect x={x} y={y} width={w} height={h} fill={fill} stroke={colour} stroke-width={width} {...more} />
);
export const circle = (
  x: number,
  y: number,
  r: number,
  fill: string,
  colour = OUTLINE,
  width = 2.4,
): VNode => <circle cx={x} cy={y} r={r} fill={fill} stroke={colour} stroke-width={width} />;
export const words = (
  x: number,
  y: number,
  text: ComponentChildren,
  size: number,
  more: More = {},
): VNode => (
  <text x={x} y={y} font-size={size} fill={col("ink")} text-anchor="middle" {...more}>
    {text}
  </text>
);
export const round2 = (v: number): number => Math.round(v * 100) / 100;
export const dashed: More = { "stroke-dasharray": "6 6" };

/** By night a rim of chalk round a shape; nothing by day. */
export const rim = (x: number, y: number, w: number, h: number): VNode => (
  <rect class="halo" x={x - 2.5} y={y - 2.5} width={w + 5} height={h + 5} />
);
