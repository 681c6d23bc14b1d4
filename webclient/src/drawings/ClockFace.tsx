/** What does a clock on the wall show? */
import { circle, col, OUTLINE, path, rect, round2, Sheet, type Titled } from "./line";

/** `hour` 0 to 23, `minute` 0 to 59. */
export function ClockFace(p: Titled & { hour: number; minute: number; width?: number | undefined }) {
  const to = (turns: number, r: number): string =>
    `${round2(50 + Math.sin(turns * 2 * Math.PI) * r)} ${round2(50 - Math.cos(turns * 2 * Math.PI) * r)}`;
  return (
    <Sheet w={100} h={100} width={p.width ?? 96} title={p.title}>
      {circle(50, 50, 46, col("paper"), OUTLINE, 3)}
      {path(
        Array.from({ length: 12 }, (_, k) => `M${to(k / 12, k % 3 ? 39 : 36)}L${to(k / 12, 43)}`).join(""),
        OUTLINE,
        2,
      )}
      {path(`M50 50L${to((p.hour + p.minute / 60) / 12, 23)}`, OUTLINE, 5)}
      {path(`M50 50L${to(p.minute / 60, 35)}`, OUTLINE, 3)}
    </Sheet>
  );
}

/** A written sheet; `cut`: the part of its lines (0 to 1) after which it is too long. */
export function WrittenSheet(p: Titled & { cut?: number | undefined; width?: number | undefined }) {
  return (
    <Sheet w={104} h={120} x={0} y={-10} width={p.width ?? 96} title={p.title}>
      {rect(14, -6, 76, 112, col("card"), OUTLINE, 3)}
      {path(
        Array.from({ length: 9 }, (_, k) => `M24 ${8 + k * 10.5}H${k === 8 ? 56 : 80}`).join(""),
        col("ink"),
        2.4,
      )}
      {p.cut != null && path(`M2 ${13 + p.cut * 90}H102`, col("red"), 4)}
    </Sheet>
  );
}
