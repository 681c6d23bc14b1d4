/** How does the screw stand, and how far must it go? Its head in its lock nut, eighths round it, a dot at one slot end. */
import { circle, col, line, OUTLINE, path, rect, round2, Sheet, type Titled, words } from "./line";

const turn = (eighths: number, r: number, c: number): [number, number] => {
  const a = (eighths * Math.PI) / 4 - Math.PI / 2;
  return [round2(c + Math.cos(a) * r), round2(c + Math.sin(a) * r)];
};

/** `eighths`: of a turn, clockwise from the top. Small: for a row, a slip, a machine. */
export function ScrewHead(p: Titled & { eighths: number; width?: number | string | undefined }) {
  const slot = turn(p.eighths, 22, 50);
  const other = turn(p.eighths + 4, 22, 50);
  const dot = turn(p.eighths, 30, 50);
  return (
    <Sheet w={96} h={96} x={2} y={2} width={p.width ?? 60} title={p.title}>
      {path(
        Array.from(
          { length: 8 },
          (_, k) => `M${turn(k, 37, 50).join(" ")}L${turn(k, 45, 50).join(" ")}`,
        ).join(""),
        OUTLINE,
        3,
      )}
      {circle(50, 50, 35, col("steel"), OUTLINE, 3.2)}
      {line(slot[0], slot[1], other[0], other[1], OUTLINE, 8)}
      <circle cx={dot[0]} cy={dot[1]} r={4.2} fill={col("red")} stroke={col("steel")} stroke-width={1} />
    </Sheet>
  );
}

/** Where it stands and where it goes. `by`: eighths, clockwise positive; 0 or absent: it stays. */
export function ScrewTurn(
  p: Titled & {
    eighths: number;
    by?: number | undefined;
    nowWords?: string | undefined;
    thenWords?: string | undefined;
    nutWords?: string | undefined;
  },
) {
  const c = 160;
  const by = p.by ?? 0;
  const then = p.eighths + by;
  const nut = Array.from(
    { length: 6 },
    (_, k) =>
      `${k ? "L" : "M"}${round2(c + Math.cos((k * Math.PI) / 3) * 148)} ${round2(c + Math.sin((k * Math.PI) / 3) * 148)}`,
  ).join("");
  const slot = (eighths: number, going: boolean) => (
    <g transform={`rotate(${eighths * 45} ${c} ${c})`}>
      {going
        ? rect(c - 13, c - 98, 26, 196, "none", col("dark-red"), 3, { "stroke-dasharray": "8 7" })
        : rect(c - 13, c - 98, 26, 196, OUTLINE)}
      {!going && circle(c, c - 84, 7, col("screw"), "none", 0)}
    </g>
  );
  const way = by < 0 ? -1 : 1;
  const label = (eighths: number, text: string | undefined, colour: string) => {
    const [x, y] = turn(eighths, 64, c);
    return (
      text &&
      words(x, y + 8, text, 22, {
        fill: colour,
        "font-weight": 700,
        stroke: col("screw"),
        "stroke-width": 5,
        "paint-order": "stroke",
      })
    );
  };
  return (
    <Sheet w={324} h={308} x={-2} y={6} title={p.title} kind="screw-turn">
      {path(`${nut}Z`, OUTLINE, 3.6, col("steel-dark"))}
      {circle(c, c, 112, col("screw"), OUTLINE, 3.4)}
      {circle(c, c, 104, "none", OUTLINE, 1.1)}
      {path(
        Array.from(
          { length: 8 },
          (_, k) => `M${turn(k, 112, c).join(" ")}L${turn(k, 128, c).join(" ")}`,
        ).join(""),
        OUTLINE,
        5,
      )}
      {by !== 0 && slot(then, true)}
      {slot(p.eighths, false)}
      {by !== 0 && circle(...turn(then, 84, c), 7, col("red"), col("screw"), 2)}
      {by !== 0 && arrow(p.eighths, then, c)}
      {by !== 0 && label(p.eighths - way, p.nowWords, col("ink"))}
      {by !== 0 && label(then + way * 0.9, p.thenWords, col("dark-red"))}
      {p.nutWords && (
        <>
          {words(318, 312, p.nutWords, 20, { "text-anchor": "end" })}
          {line(276, 292, 254, 262, OUTLINE, 2)}
        </>
      )}
    </Sheet>
  );
}

function arrow(from: number, to: number, c: number) {
  const way = to > from ? 1 : -1;
  const r = 136;
  const head = to - way * Math.min(0.22, Math.abs(to - from) / 3); // a small turn has a small arrow
  const start = turn(from + (to - head) / 2, r, c);
  const end = turn(to - way * 0.02, r, c);
  const a = turn(head, r - 15, c);
  const b = turn(head, r + 15, c);
  const far = Math.abs(to - from) > 4 ? 1 : 0;
  return path(
    `M${start.join(" ")}A${r} ${r} 0 ${far} ${way > 0 ? 1 : 0} ${end.join(" ")}M${a.join(" ")}L${end.join(" ")}L${b.join(" ")}`,
    col("red"),
    8,
  );
}
