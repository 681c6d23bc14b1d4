/** What is seen in a drawer that stands open: wet cane, screws, a drop of oil, a sheet. */
import type { VNode } from "preact";
import { circle, col, LINE, line, OUTLINE, path, rect } from "../drawings/line";

const inside: Record<string, () => VNode[]> = {
  soak: () => [
    rect(0, 8, 150, 20, col("water-deep")),
    ...[10, 18].map((y) => rect(20, y, 106, 9, col("bark-wet"), LINE, 1.6)),
  ],
  "set-up": () =>
    [0, 1, 2].flatMap((k) => [
      circle(35 + k * 40, 15, 11, col("steel"), OUTLINE, 2),
      line(28 + k * 40, 10 + k * 3, 42 + k * 40, 20 - k * 3, OUTLINE, 3),
    ]),
  care: () => [path("M75 1c12 14 14 18 9 25h-18c-5 -7 -3 -11 9 -25", OUTLINE, 2, col("oil"))],
  batches: () => [10, 17].map((y) => rect(20, y, 106, 6, col("bark"), LINE, 1.6)),
};

export function DrawerInside(p: { room: string }) {
  const draw =
    inside[p.room] ??
    (() => [rect(40, 8, 70, 30, col("paper"), OUTLINE, 2), path("M50 17H98M50 24H90", OUTLINE, 1.6)]);
  return (
    <svg class="drawer-inside" viewBox="0 0 150 28" preserveAspectRatio="xMidYMax slice" aria-hidden="true">
      {draw()}
    </svg>
  );
}
