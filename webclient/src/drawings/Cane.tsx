/** A strip of cane from above, about 120 by 17 mm: how far the water has come in, how much of each half is pared. */
import "./drawings.css";
import { col, LINE, line, path, rect, rim, Sheet, type Titled } from "./line";
import { fibres, type Hand, hand, round1, stroke } from "./wobble";

export interface CaneFacts {
  /** how far the water has come in, 0 to 1; absent: dry */
  wet?: number | undefined;
  /** how much of the half is pared, 0 to 1 */
  left?: number | undefined;
  right?: number | undefined;
  /** lines are scored once the piece is on the machine */
  scored?: boolean | undefined;
}

export interface StripPlace extends CaneFacts {
  x?: number | undefined;
  y?: number | undefined;
  w: number;
  h?: number | undefined;
  seed?: number | undefined;
  /** width of the ink line */
  ink?: number | undefined;
}

/** From a shoulder to an end, as a part of the length (60 of 120 mm lie between the shoulders). */
const SHOULDER = 0.255;

export function CaneStrip(p: StripPlace) {
  const { w, x = 0, y = 0, seed = 1, left = 0, right = 0 } = p;
  const h = p.h ?? w / 7;
  const ink = p.ink ?? (h < 12 ? 1.4 : h < 26 ? 2 : 2.6);
  const pen = hand(seed * 31 + Math.round(w));
  const sl = x + w * SHOULDER;
  const sr = x + w * (1 - SHOULDER);
  const m = x + w / 2;
  const small = h < 7;
  return (
    <g>
      {rim(x, y, w, h)}
      {rect(x, y, w, h, col(p.wet == null ? "bark" : "bark-wet"))}
      {p.wet == null
        ? !small && (
            <>
              {rect(x, y + h * 0.8, w, h * 0.2, col("bark-dark"), "none", 0, { opacity: 0.8 })}
              {rect(x, y + h * 0.16, w, h * 0.1, "#fff", "none", 0, { opacity: 0.22 })}
            </>
          )
        : p.wet < 1 && path(waterFront(x, y, w, h, p.wet), LINE, Math.min(1.5, ink), col("bark"))}
      {!small &&
        path(
          fibres(pen, x, y, w, h, Math.max(1, Math.round(h / 8)), 20, 20 + w * 0.25),
          col("bark-dark"),
          0.9,
          "none",
          { opacity: 0.7 },
        )}
      {pared(pen, sl, m, left, 1, y, h, ink)}
      {pared(pen, sr, m, right, -1, y, h, ink)}
      {p.scored && (
        <>
          {path(stroke(pen, sl, y, sl, y + h, 0.4) + stroke(pen, sr, y, sr, y + h, 0.4), LINE, ink)}
          {line(m, y + 2, m, y + h - 2, LINE, ink * 0.8, { "stroke-dasharray": "4 4" })}
        </>
      )}
      {path(box(pen, x, y, w, h), LINE, ink, "none", { "stroke-linecap": "round" })}
    </g>
  );
}

function box(pen: Hand, x: number, y: number, w: number, h: number): string {
  const a = Math.min(0.5, h / 26);
  return (
    stroke(pen, x, y, x + w, y, a) +
    stroke(pen, x + w, y, x + w, y + h, a) +
    stroke(pen, x + w, y + h, x, y + h, a) +
    stroke(pen, x, y + h, x, y, a)
  );
}

/** The dry heart: water comes in from the ends and from the faces. */
function waterFront(x: number, y: number, w: number, h: number, wet: number): string {
  const e = wet * w * 0.5;
  const v = wet * h * 0.5;
  const m = x + w / 2;
  const l = round1(x + e);
  const r = round1(x + w - e);
  const t = round1(y + v * 0.8);
  const b = round1(y + h - v * 0.8);
  return `M${l} ${t}Q${m} ${round1(y + v * 0.55)} ${r} ${t}Q${r + 6} ${round1(y + h / 2)} ${r} ${b}Q${m} ${round1(y + h - v * 0.55)} ${l} ${b}Q${l - 6} ${round1(y + h / 2)} ${l} ${t}Z`;
}

/** The pared part grows along the crown from the shoulder to the middle, then widens; bark at the sides goes last. */
function pared(
  pen: Hand,
  shoulder: number,
  middle: number,
  part: number,
  way: 1 | -1,
  y: number,
  h: number,
  ink: number,
) {
  if (part <= 0) return null;
  const q = Math.min(1, part);
  const x0 = shoulder;
  const x1 = x0 + way * Math.abs(middle - shoulder) * Math.min(1, q / 0.45);
  const c = y + h / 2;
  const half = (h / 2) * (q < 0.35 ? 0.2 + q * 0.5 : Math.min(1, 0.375 + (q - 0.35) * 0.96));
  const tip = q < 0.45 ? 0 : half * Math.min(1, 0.55 + (q - 0.45));
  const t = x0 + (x1 - x0) * 0.72;
  const u = x0 + (t - x0) * 0.6;
  const n = [
    x0,
    x1,
    t,
    u,
    c - half,
    c + half,
    c - tip,
    c + tip,
    c - Math.max(tip, half * 0.7),
    c + Math.max(tip, half * 0.7),
  ].map(round1);
  const d = `M${n[0]} ${n[4]}C${n[3]} ${n[4]} ${n[2]} ${n[8]} ${n[1]} ${n[6]}V${n[7]}C${n[2]} ${n[9]} ${n[3]} ${n[5]} ${n[0]} ${n[5]}Z`;
  const marks =
    h < 7
      ? ""
      : [-0.5, 0, 0.5]
          .map((v) =>
            stroke(
              pen,
              x0 + (x1 - x0) * 0.08,
              c + v * half,
              x0 + (x1 - x0) * (0.6 + pen.next() * 0.25),
              c + v * half * 0.9,
              0.4,
            ),
          )
          .join("");
  return (
    <>
      {path(d, LINE, Math.min(1.8, ink), col("pared"))}
      {marks && path(marks, col("fibre"), 1.2)}
    </>
  );
}

/** One strip by itself. `number`: pencilled on the bark at its left. */
export function Cane(
  p: CaneFacts & Titled & { seed?: number | undefined; width?: number | string | undefined },
) {
  return (
    <Sheet w={126} h={23} x={-3} y={-3} width={p.width} title={p.title}>
      <CaneStrip {...p} w={120} h={17} />
    </Sheet>
  );
}
