/** Does the blade stand a hair proud of its sole? Equal feelers either side, the straight edge over them. Not to scale. */
import { col, LINE, OUTLINE, path, rect, Sheet, type Titled, words } from "./line";
import { fibres, hand } from "./wobble";

export type Proud = "hair" | "not_biting" | "too_far";

export function Projection(
  p: Titled & {
    proud?: Proud | undefined;
    edgeWords?: string | undefined;
    feelerWords?: string | undefined;
    soleWords?: string | undefined;
  },
) {
  const proud = p.proud ?? "hair";
  const lift = proud === "too_far" ? 16 : 0;
  const tip = { hair: 44, not_biting: 57, too_far: 28 }[proud];
  const pen = hand(4);
  return (
    <Sheet w={348} h={226} x={6} y={-18} title={p.title}>
      {rect(8, 4 - lift, 344, 40, col("steel-light"), OUTLINE, 3)}
      {path(
        Array.from({ length: 33 }, (_, i) => `M${16 + i * 10.3} ${4 - lift}v${i % 5 ? 8 : 15}`).join(""),
        LINE,
        1.5,
      )}
      {rect(22, 44, 104, 26, col("brass"), OUTLINE, 2.6)}
      {rect(234, 44, 104, 26, col("brass"), OUTLINE, 2.6)}
      {path("M12 70H146V200H12Z", OUTLINE, 3, col("wood"))}
      {path("M214 70H348V200H214Z", OUTLINE, 3, col("wood"))}
      {path(
        fibres(pen, 14, 72, 130, 60, 3, 30, 90) +
          fibres(pen, 216, 72, 130, 60, 3, 30, 90) +
          fibres(pen, 14, 150, 130, 48, 3, 30, 90) +
          fibres(pen, 216, 150, 130, 48, 3, 30, 90),
        col("wood-grain"),
        1.2,
        "none",
        { opacity: 0.6 },
      )}
      {path(`M160 204V${tip}L200 ${tip + 50}V204Z`, OUTLINE, 3.2, col("steel"))}
      {path(`M191 ${tip + 46}V202`, col("steel-dark"), 7)}
      {path(`M149 44V70`, col("red"), 4)}
      {p.edgeWords &&
        words(180, 34 - lift, p.edgeWords, 20, {
          "font-weight": 700,
          fill: LINE,
          stroke: col("steel-light"),
          "stroke-width": 4,
          "paint-order": "stroke",
        })}
      {p.feelerWords && [74, 286].map((x) => words(x, 64, p.feelerWords, 19, { "font-weight": 700 }))}
      {p.soleWords && [79, 281].map((x) => words(x, 146, p.soleWords, 24, { "font-weight": 700 }))}
    </Sheet>
  );
}

/** The same, small, for a row. */
export function ProjectionMark(p: Titled & { width?: number | undefined }) {
  return (
    <Sheet w={68} h={54} x={-4} y={0} width={p.width ?? 62} title={p.title}>
      {rect(0, 3, 60, 10, col("steel-light"), OUTLINE, 2)}
      {rect(0, 21, 20, 30, col("wood"), OUTLINE, 2)}
      {rect(40, 21, 20, 30, col("wood"), OUTLINE, 2)}
      {rect(2, 14, 14, 6, col("brass"), OUTLINE, 1.5)}
      {rect(44, 14, 14, 6, col("brass"), OUTLINE, 1.5)}
      {path("M25 51V14L35 26V51Z", OUTLINE, 2.2, col("steel"))}
    </Sheet>
  );
}
