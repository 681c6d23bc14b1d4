/** What does the blade's edge show against a straight edge, with the window behind it? Not to scale. */
import { circle, col, line, OUTLINE, path, rect, Sheet, type Titled } from "./line";

export type EdgeSeen = "straight" | "hollow" | "nicked" | "slanted";

export function EdgeToLight(p: Titled & { seen: EdgeSeen; width?: number | string | undefined }) {
  const e = 70;
  const l = 14;
  const r = 176;
  const cut = {
    straight: `H${l}`,
    hollow: `Q${(l + r) / 2} ${e - 36} ${l} ${e}`,
    nicked: `H${l + 110}l-7 -18l-9 5l-6 13H${l}`,
    slanted: `L${l} ${e - 16}`,
  }[p.seen];
  return (
    <Sheet w={190} h={118} width={p.width ?? 190} title={p.title}>
      {rect(0, 0, 190, 118, col("window"))}
      {line(95, 0, 95, 118, col("fibre"), 5)}
      {path(`M${l} 14H${r}V${e}${cut}Z`, OUTLINE, 3, col("blade"))}
      {circle(62, 31, 7, col("window"))}
      {circle(128, 31, 7, col("window"))}
      {rect(2, e + 1, 186, 34, col("rule"), OUTLINE, 3)}
      {path(
        Array.from({ length: 15 }, (_, i) => `M${11 + i * 12} ${e + 35}v${i % 5 ? -8 : -14}`).join(""),
        col("rule-marks"),
        1.6,
      )}
      {rect(1, 1, 188, 116, "none", OUTLINE, 2)}
    </Sheet>
  );
}
