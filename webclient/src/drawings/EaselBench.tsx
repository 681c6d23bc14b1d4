/** What lies on the machine? The bed, the piece with its halves, the carriage over the half being cut. */
import { useRef } from "preact/hooks";
import { CaneStrip } from "./Cane";
import { circle, col, LINE, line, OUTLINE, path, rect, Sheet, type Titled, words } from "./line";
import "./drawings.css";

export interface OnTheMachine extends Titled {
  /** pencilled on the bark */
  number: number;
  /** how much of each half is pared, 0 to 1; the half at the right lies under the blade */
  left?: number | undefined;
  right?: number | undefined;
  /** how many times it was turned end for end: a change swings it */
  turns?: number | undefined;
  /** the number as it is said and written */
  numberWords?: string | undefined;
}

export function EaselBench(p: OnTheMachine) {
  const before = useRef({ number: p.number, turns: p.turns ?? 0, off: 0 });
  const was = before.current;
  const turns = p.turns ?? 0;
  const swung = was.number === p.number && turns > was.turns;
  const changed = was.number !== p.number;
  before.current = { number: p.number, turns, off: changed && p.number > was.number ? was.number : was.off };
  const { off } = before.current;
  const cutting = (p.right ?? 0) > 0;
  // turned end for end an odd number of times, its first end and the number on it lie at the right
  const over = turns % 2 === 1;
  return (
    <div class="full-bleed">
      <Sheet w={360} h={122} y={-34} title={p.title} kind="easel">
        {rect(0, -20, 360, 90, col("bed"))}
        {rect(0, 54, 360, 16, col("bed-edge"))}
        {line(0, -20, 360, -20, OUTLINE, 2.6)}
        {line(0, 70, 360, 70, OUTLINE, 2.6)}
        {line(0, 54, 360, 54, OUTLINE, 1.2)}
        {(off > 0 && off < p.number ? [off, p.number] : [p.number]).map((n) => {
          const on = n === p.number;
          // the strip that comes off is the one that lay there: nothing of it is drawn a second time
          return (
            <g key={n} class={on ? (changed || off > 0 ? "strip-on" : undefined) : "strip-off"}>
              <g key={on ? turns : 0} class={on && swung ? "strip-swung" : undefined}>
                {on ? <Strip {...p} over={over} /> : <Strip number={n} left={1} right={1} />}
              </g>
              {on && words(over ? 304 : 56, 38, p.numberWords ?? n, 38, { "font-weight": 700, fill: LINE })}
            </g>
          );
        })}
        {rect(2, -8, 15, 65, col("steel"), OUTLINE, 2.6)}
        {rect(343, -8, 15, 65, col("steel"), OUTLINE, 2.6)}
        <Carriage x={cutting ? 226 : 246} />
        {cutting && <Curl x={218} />}
      </Sheet>
    </div>
  );
}

/** `over`: it lies turned; left and right are still those of the bed. */
export function Strip(p: Pick<OnTheMachine, "number" | "left" | "right"> & { over?: boolean }) {
  const [left, right] = p.over ? [p.right, p.left] : [p.left, p.right];
  return (
    <g transform={p.over ? "matrix(-1 0 0 1 360 0)" : undefined}>
      <CaneStrip x={8} y={0} w={344} seed={p.number} left={left} right={right} scored ink={3} />
    </g>
  );
}

function Carriage(p: { x: number }) {
  const x = p.x;
  return (
    <>
      {rect(x, -30, 52, 110, col("steel"), OUTLINE, 3)}
      {rect(x + 38, -28.5, 12.5, 107, col("steel-dark"))}
      {path(`M${x} -30l-9 8V72l9 8z`, OUTLINE, 2.6, col("steel-light"))}
      {[-14, 64].map((y) => (
        <g key={y}>
          {circle(x + 20, y, 8, col("steel-dark"), OUTLINE, 2.2)}
          {line(x + 14, y + 4, x + 26, y - 4, OUTLINE, 2.2)}
        </g>
      ))}
    </>
  );
}

/** The shaving that comes off. */
function Curl(p: { x: number }) {
  const d = `M${p.x} 22c-16 4 -36 -2 -38 -22c-1 -18 22 -25 28 -9c4 13 -14 16 -15 5`;
  return (
    <>
      {path(d, LINE, 10)}
      {path(d, col("pared"), 5.4)}
    </>
  );
}
