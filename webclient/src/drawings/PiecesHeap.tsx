/** How does the batch lie? Good, second and lost pieces in their order, three abreast; what is still to come is dashed. */
import { CaneStrip } from "./Cane";
import { col, dashed, rect, Sheet, type Titled } from "./line";
import { type Outcome, OutcomeMark } from "./OutcomeShape";

export function PiecesHeap(
  p: Titled & { pieces: readonly (Outcome | null)[]; abreast?: number | undefined },
) {
  const abreast = p.abreast ?? 3;
  const w = (342 - (abreast - 1) * 10) / abreast;
  const rows = Math.max(1, Math.ceil(p.pieces.length / abreast));
  const step = rows > 12 ? 12 : rows > 9 ? 16 : 21;
  const h = step * 0.74;
  return (
    <Sheet w={350} h={rows * step + 4} x={-4} y={-2} title={p.title} kind="heap">
      {p.pieces.map((outcome, i) => {
        const x = (i % abreast) * (w + 10);
        const y = Math.floor(i / abreast) * step + 1;
        if (outcome === "good")
          return (
            <g key={i} class="piece piece-good">
              <CaneStrip x={x} y={y} w={w} h={h} left={1} right={1} scored seed={i + 1} />
            </g>
          );
        if (outcome === null)
          return (
            <g key={i} class="piece piece-coming">
              {rect(x, y, w, h, "none", col("pencil"), 1.8, { ...dashed, "stroke-dasharray": "5 4" })}
            </g>
          );
        return (
          <OutcomeMark key={i} outcome={outcome} x={x + w * 0.12} y={y + 1} w={Math.min(w * 0.6, h * 4.3)} />
        );
      })}
    </Sheet>
  );
}
