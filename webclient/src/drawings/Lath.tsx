/** How long has it been, and when is it time? Minutes along a wooden lath: a knife mark is now, red thread the maker's own mark. */
import "./drawings.css";
import { col, line, OUTLINE, path, rect, Sheet, type Titled } from "./line";
import { fibres, hand } from "./wobble";

export interface LathFacts extends Titled {
  /** minutes along the whole lath */
  max_min: number;
  now_min?: number | null | undefined;
  /** the maker's own mark; absent where there is none (by practice) */
  mark_min?: number | null | undefined;
  small?: boolean | undefined;
  /** words above the knife mark */
  nowWords?: string | undefined;
  /** words below at the right, red when a mark stands */
  markWords?: string | undefined;
  /** words below at the left, e.g. "0 min" */
  startWords?: string | undefined;
}

export function Lath(p: LathFacts) {
  const w = p.small ? 174 : 320;
  const h = p.small ? 22 : 34;
  const x = (m: number): number => Math.round((8 + (m / p.max_min) * (w - 16)) * 10) / 10;
  const step = stepFor(p.max_min) * (p.small ? 2 : 1);
  const notches: number[] = [];
  for (let m = 0; m <= p.max_min; m += step) notches.push(m);
  const ink = col("ink");
  const now = p.now_min == null ? null : Math.min(p.max_min, Math.max(0, p.now_min));
  return (
    <div class={p.small ? "lath lath-small" : "lath"}>
      {p.nowWords && now != null && (
        <div class="lath-now">
          <span style={{ left: `clamp(4.5rem, ${(x(now) / w) * 100}%, calc(100% - 4.5rem))` }}>
            {p.nowWords}
          </span>
        </div>
      )}
      <Sheet w={w + 4} h={h + 22} x={-2} y={-14} title={p.title}>
        {rect(0, 0, w, h, col("wood"), OUTLINE, 2.4)}
        {path(fibres(hand(9), 3, 2, w - 6, h - 4, p.small ? 1 : 2, 40, 150), col("wood-grain"), 1.2, "none", {
          opacity: 0.45,
        })}
        {notches.map((m, i) => line(x(m), 0, x(m), i % 2 ? 8 : 14, ink, i % 2 ? 1.8 : 2.8))}
        {p.mark_min != null &&
          p.mark_min <= p.max_min &&
          path(
            `M${x(p.mark_min)} -6v${h + 12}m-3 -${h + 11}v${h + 10}m6 -${h + 10}v${h + 10}`,
            col("red"),
            2.6,
          )}
        {now != null && path(`M${x(now)} 3l-9 -15h18z`, col("outline"), 1.6, ink)}
      </Sheet>
      {(p.startWords || p.markWords) && (
        <div class="lath-words">
          <span>{p.startWords}</span>
          <span class={p.mark_min != null ? "lath-mark" : undefined}>{p.markWords}</span>
        </div>
      )}
    </div>
  );
}

/** Minutes between two notches: 8 to 20 of them along the lath. */
function stepFor(max_min: number): number {
  return [1, 5, 10, 15, 30, 60, 120, 240].find((s) => max_min / s <= 16) ?? 480;
}
