/** A dark phone leans against the water jar and rings. */
import { col, OUTLINE, path, rect, Sheet } from "./line";

export function LeaningPhone() {
  return (
    <Sheet w={310} h={170} kind="jar">
      {rect(133, 54, 134, 108, col("water"))}
      {path("M130 10V156Q130 164 138 164H262Q270 164 270 156V10", OUTLINE, 3.6)}
      {path("M132 54q17 -6 34 0t34 0t34 0t34 0", OUTLINE)}
      <g transform="rotate(14 98 162)">{rect(34, 36, 64, 126, col("ink"), OUTLINE, 3)}</g>
      {path("M28 60q-10 16 -8 36M14 52q-14 24 -10 50M10 164H300", OUTLINE)}
    </Sheet>
  );
}
