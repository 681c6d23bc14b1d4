/** What was seen? Each fault as it looks, one view each, and in the corner how it is seen: from the top, the side or the end. */
import type { VNode } from "preact";
import { circle, col, LINE, line, OUTLINE, path, rect, rim, Sheet, type Titled } from "./line";

const A = 2;
const B = 134;
const M = 68;
const FOOT = 60;

const side = (d: string): VNode => path(d, OUTLINE, 2.6, col("pared"));
const bark = (from: number, to: number, y: number): VNode => line(from, y, to, y, col("bark-dark"), 5);
const bothBarks = (y = 34): VNode => (
  <>
    {bark(A, A + 34, y)}
    {bark(B - 34, B, y)}
  </>
);
const ends = (left = A + 34, right = B - 34): VNode => (
  <>
    {rim(A, 32, B - A, 24)}
    {rect(A, 32, B - A, 24, col("pared"), LINE, 2.6)}
    {rect(A, 32, left - A, 24, col("bark"), LINE, 2)}
    {rect(right, 32, B - right, 24, col("bark"), LINE, 2)}
  </>
);
const top = (more: VNode | VNode[]): VNode => (
  <>
    {ends()}
    {more}
  </>
);
const ink = (d: string, width = 2.4, fill = LINE): VNode => path(d, LINE, width, fill);
/** side view between two shoulders; `way`: from the left shoulder's foot to the right one's */
const profile = (way: string): VNode => (
  <>
    {side(`M${A} ${FOOT}V34H${A + 34}${way}L${B - 34} 34H${B}V${FOOT}Z`)}
    {bothBarks()}
  </>
);

type View = "top" | "side" | "end";

const drawn: Record<string, [View, () => VNode]> = {
  ridge_middle: [
    "side",
    () => profile(`L${A + 44} 46H${M - 8}Q${M - 5} 32 ${M} 31Q${M + 5} 32 ${M + 8} 46H${B - 44}`),
  ],
  step_shoulder: [
    "side",
    () => (
      <>
        {side(`M${A} ${FOOT}V32H${A + 34}V40H${A + 54}V49H${B - 44}L${B - 34} 34H${B}V${FOOT}Z`)}
        {bark(A, A + 34, 32)}
        {bark(B - 34, B, 34)}
      </>
    ),
  ],
  shoulder_slanted: [
    "top",
    () => (
      <>
        {rim(A, 32, B - A, 24)}
        {rect(A, 32, B - A, 24, col("pared"), LINE, 2.6)}
        {path(`M${A} 32h26l14 24h-40z`, LINE, 2, col("bark"))}
        {path(`M${B} 32h-36l6 9l-5 8l3 7h32z`, LINE, 2, col("bark"))}
      </>
    ),
  ],
  dig_in: ["top", () => top(ink(`M${M - 18} 41q6 -6 14 -3q10 4 7 9q-8 6 -16 3q-7 -3 -5 -9z`))],
  torn: [
    "top",
    () =>
      top([
        ink(
          [0, 1, 2, 3].map((k) => `M${A + 42 + k * 12} ${38 + k * 3}l12 -3m-8 8l13 -1`).join(""),
          2.2,
          "none",
        ),
        path(`M${M - 2} 32l5 -11l3 11m8 0l6 -9l1 9`, OUTLINE, 2.2, col("pared")),
      ]),
  ],
  chatter: [
    "side",
    () => (
      <>
        {side(
          `M${A} ${FOOT}V34H${A + 30}q4 13 8 13q4 -9 8 0t8 0t8 0t8 0t8 0t8 0t8 0L${B - 32} 34H${B}V${FOOT}Z`,
        )}
        {bark(A, A + 30, 34)}
        {bark(B - 32, B, 34)}
      </>
    ),
  ],
  split: ["top", () => top(ink(`M${B} 41L${M + 8} 43L${A + 40} 42L${M + 8} 46L${B} 49Z`, 1.6))],
  hard_work: [
    "side",
    () => (
      <>
        {side(`M${A} ${FOOT}V34H${B}V${FOOT}Z`)}
        {bark(A, B, 34)}
        {path(
          [0, 1, 2, 3, 4].map((k) => `M${M - 24 + k * 11} ${26 - (k % 2) * 6}l5 -2`).join(""),
          OUTLINE,
          2.4,
        )}
      </>
    ),
  ],
  cut_through: [
    "side",
    () => (
      <>
        {side(`M${A} ${FOOT}V34H${A + 34}L${A + 44} 46L${M - 7} ${FOOT}Z`)}
        {side(`M${B} ${FOOT}V34H${B - 34}L${B - 44} 46L${M + 7} ${FOOT}Z`)}
        {bothBarks()}
      </>
    ),
  ],
  thick_middle: [
    "side",
    () => (
      <>
        {profile(`L${A + 44} 46Q${M - 16} 38 ${M} 38Q${M + 16} 38 ${B - 44} 46`)}
        {path(`M${M} 18V34M${M - 5} 28l5 7l5 -7`, OUTLINE, 2.4)}
      </>
    ),
  ],
  bark_left: [
    "top",
    () =>
      top([
        rect(A + 34, 32, B - A - 68, 5.5, col("bark"), LINE, 1.8),
        rect(A + 34, 50.5, B - A - 68, 5.5, col("bark"), LINE, 1.8),
      ]),
  ],
  edge_lifted: [
    "side",
    () => (
      <>
        {side(
          `M${A} ${FOOT}V36H${A + 20}Q${A + 30} 34 ${A + 38} 20L${A + 41} 23L${A + 36} 46H${B - 44}L${B - 34} 34H${B}V${FOOT}Z`,
        )}
        {path(`M${A} 36H${A + 20}Q${A + 30} 34 ${A + 38} 21`, col("bark-dark"), 5)}
        {bark(B - 34, B, 34)}
      </>
    ),
  ],
  one_side_thick: [
    "end",
    () => (
      <>
        {path("M30 60Q34 20 74 20Q110 22 116 60H109Q104 34 76 34Q54 36 50 60Z", OUTLINE, 2.6, col("pared"))}
        {path("M30 60Q34 20 74 20Q110 22 116 60", col("bark-dark"), 5)}
      </>
    ),
  ],
  slipped: [
    "top",
    () => (
      <>
        <g transform={`rotate(-7 ${M} 44)`}>{ends()}</g>
        {rect(A - 2, 26, 9, 36, col("steel"), OUTLINE, 2.2)}
        {rect(B - 7, 26, 9, 36, col("steel"), OUTLINE, 2.2)}
      </>
    ),
  ],
  twisted: [
    "side",
    () => (
      <>
        {path(
          `M${A + 6} 56Q${M} 58 ${B - 22} 44Q${B - 10} 40 ${B - 22} 36Q${M} 34 ${A + 10} 24L${A + 4} 33Q${M} 43 ${B - 36} 40Q${M} 47 ${A + 2} 48Z`,
          OUTLINE,
          2.6,
          col("pared"),
        )}
        {line(A + 30, 44, B - 4, 40, OUTLINE, 1.8, { "stroke-dasharray": "4 4" })}
      </>
    ),
  ],
  drift: [
    "side",
    () => (
      <>
        {[0, 1, 2, 3].map((k) =>
          path(`M${A + k * 34} ${FOOT}V38h7q8 ${12 - k * 4} 16 0h7V${FOOT}Z`, OUTLINE, 2.2, col("pared")),
        )}
        {path(`M${A + 12} 24H${B - 16}m-8 -6l8 6l-8 6`, OUTLINE, 2.4)}
      </>
    ),
  ],
  not_sure: [
    "top",
    () =>
      top(
        path(
          `M${M - 8} 24Q${M - 8} 14 ${M} 14Q${M + 9} 14 ${M + 8} 22Q${M + 7} 27 ${M} 32V44M${M} 50v4`,
          LINE,
          5,
        ),
      ),
  ],
};

/** The codes that have a drawing, in the order of the table in the craft. */
export const drawnFaults: readonly string[] = Object.keys(drawn);

export function FaultDrawing(p: Titled & { fault: string; width?: number | string | undefined }) {
  const [view, draw] = drawn[p.fault] ?? ["top", () => <>{ends()}</>];
  return (
    <Sheet w={140} h={62} x={-2} y={2} width={p.width} title={p.title} kind="fault">
      {draw()}
      {cue(view)}
    </Sheet>
  );
}

function cue(view: View): VNode {
  if (view === "top")
    return (
      <>
        {rect(1, 5, 24, 9, col("paper"), OUTLINE, 1.8)}
        {path("M7 5V14M19 5V14", OUTLINE, 1.4)}
      </>
    );
  if (view === "side") return path("M1 14V8H7L10 11H16L19 8H25V14z", OUTLINE, 1.6, col("paper"));
  return (
    <>
      {path("M1 15Q13 -3 25 15L20 17Q13 6 6 17Z", OUTLINE, 1.6, col("paper"))}
      {circle(13, 15, 0.8, OUTLINE, "none", 0)}
    </>
  );
}
