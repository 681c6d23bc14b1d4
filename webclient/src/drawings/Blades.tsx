/** Where are the blades, and what has each cut? Blunt ones in a shut box, one in its housing, one in a sleeve, gaps for those away. */
import { circle, col, dashed, line, OUTLINE, path, rect, Sheet, type Titled, words } from "./line";
import { fibres, hand } from "./wobble";

/** At most four abreast: each label is a place for a thumb. `high`: of the drawing, 320 wide. */
export function boxOf(n: number): { abreast: number; high: number } {
  const rows = Math.ceil(n / 4);
  return { abreast: rows > 1 ? Math.ceil(n / rows) : 4, high: 64 + 72 * rows };
}

/** A shut, rigid box of blunt blades; each label says what it cut. */
export function BladeBox(p: Titled & { blades: readonly { label: string; cut: string }[] }) {
  const { abreast, high } = boxOf(p.blades.length);
  const step = 285 / abreast;
  return (
    <Sheet w={320} h={high} x={21} y={152} title={p.title}>
      {path("M24 176L44 156H338L318 176Z", OUTLINE, 3, col("box-lid"))}
      {path(`M318 176L338 156V${high + 116}L318 ${high + 148}Z`, OUTLINE, 3, col("box-side"))}
      {rect(24, 176, 294, high - 28, col("wood"), OUTLINE, 3)}
      {path(fibres(hand(6), 26, 178, 290, high - 32, 6, 40, 150), col("wood-grain"), 1.2, "none", {
        opacity: 0.5,
      })}
      {line(24, 194, 318, 194, OUTLINE, 2)}
      {rect(156, 186, 30, 18, col("steel"), OUTLINE, 2.2)}
      {p.blades.map((blade, i) => {
        const x = 29 + (i % abreast) * step;
        const y = 208 + Math.floor(i / abreast) * 72;
        return (
          <g key={blade.label} class="blade">
            {rect(x, y, step - 4, 66, col("paper"), OUTLINE, 2)}
            {words(x + step / 2 - 2, y + 33, blade.label, 27, { "font-weight": 700 })}
            {words(x + step / 2 - 2, y + 57, blade.cut, 19)}
          </g>
        );
      })}
    </Sheet>
  );
}

export type BladeKept = "fitted" | "ready" | "away";

export function HousedBlade(p: Titled & { label: string; kept: BladeKept; width?: number | undefined }) {
  return (
    <Sheet w={92} h={94} x={-8} y={-4} width={p.width ?? 88} title={p.title}>
      {p.kept === "away" && path("M2 0h72v84h-72z", col("pencil"), 2.6, "none", dashed)}
      {p.kept === "ready" && (
        <>
          {rect(0, 0, 76, 86, col("sleeve"), OUTLINE, 3)}
          {rect(10, -3, 56, 11, col("steel"), OUTLINE, 2.4)}
          {rect(6, 16, 64, 44, col("paper"), OUTLINE, 2)}
        </>
      )}
      {p.kept === "fitted" && (
        <>
          {rect(-4, 16, 84, 70, col("steel-dark"), OUTLINE, 3)}
          {rect(8, 0, 60, 20, col("steel"), OUTLINE, 2.6)}
          {rect(6, 26, 64, 38, col("paper"), OUTLINE, 2)}
          {circle(8, 76, 3, OUTLINE)}
          {circle(68, 76, 3, OUTLINE)}
        </>
      )}
      {words(38, p.kept === "fitted" ? 56 : p.kept === "ready" ? 49 : 54, p.label, 30, {
        "font-weight": 700,
        fill: col(p.kept === "away" ? "pencil" : "ink"),
      })}
    </Sheet>
  );
}
