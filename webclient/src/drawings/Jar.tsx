/** A jar, and in it the pieces that went in together. Depth means nothing; the water in the cane does. */
import "./drawings.css";
import { col, OUTLINE, path, rect, Sheet, type Titled } from "./line";
import { PileStrips } from "./Pile";

/** More strips than this would be one black line. */
const SHOWN_AT_MOST = 40;

export interface JarFacts extends Titled {
  pieces: number;
  /** 0 to 1 */
  wet: number;
  /** big on Today, small in a list of jars */
  small?: boolean | undefined;
  seed?: number | undefined;
  width?: number | string | undefined;
}

export function Jar(p: JarFacts) {
  const w = p.small ? 124 : 308;
  const h = p.small ? 112 : 226;
  const level = p.small ? 22 : 32;
  const pad = p.small ? 15 : 32;
  return (
    <Sheet
      w={w + 12}
      h={h + 10}
      x={-6}
      y={-4}
      width={p.width ?? (p.small ? 124 : "100%")}
      title={p.title}
      kind={p.small ? undefined : "jar"}
    >
      {rect(3, level, w - 6, h - level - 3, col("water"))}
      {rect(3, h - (h - level) * 0.42, w - 6, (h - level) * 0.42 - 3, col("water-deep"))}
      <PileStrips
        n={Math.min(p.pieces, SHOWN_AT_MOST)}
        wet={p.wet}
        x={pad}
        bottom={h - (p.small ? 8 : 14)}
        w={w - pad * 2}
        room={h - level - (p.small ? 26 : 34)}
        seed={p.seed}
      />
      {glass(w, h, level)}
    </Sheet>
  );
}

function glass(w: number, h: number, level: number) {
  const waves = Math.round((w - 4) / 28);
  const len = Math.round(((w - 4) / waves) * 100) / 100;
  return (
    <>
      {path(`M0 0V${h - 10}Q0 ${h} 10 ${h}H${w - 10}Q${w} ${h} ${w} ${h - 10}V0`, OUTLINE, 3.6)}
      {path(`M-4 0h8M${w - 4} 0h8`, OUTLINE, 3.6)}
      {path(`M2 ${level}q${len / 2} -6 ${len} 0${`t${len} 0`.repeat(waves - 1)}`, OUTLINE, 2.4)}
      {path(`M9 14V${h - 22}`, col("glass"), 2.2, "none", { opacity: 0.7 })}
    </>
  );
}
