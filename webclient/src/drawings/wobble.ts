/** How does a hand's line shake? The same seed gives the same line, so that a drawing stands still between two paints. */
export interface Hand {
  /** 0 to 1 */
  next: () => number;
  /** -a to a */
  about: (a: number) => number;
}

/** A linear congruential generator (Numerical Recipes' constants, from memory): looks decide here, not statistics. */
export function hand(seed: number): Hand {
  let z = (Math.imul(seed + 1, 2654435761) ^ 7) >>> 0;
  const next = (): number => {
    z = (Math.imul(z, 1664525) + 1013904223) >>> 0;
    return z / 4294967296;
  };
  return { next, about: (a) => (next() * 2 - 1) * a };
}

/** Nobody counts more than this in a drawing; a number written by mistake must not stop a screen. */
const COUNTED_AT_MOST = 300;
export const drawn = (n: number): number => Math.min(COUNTED_AT_MOST, Math.max(0, Math.trunc(n))) || 0;

export const round1 = (v: number): number => Math.round(v * 10) / 10;

/** A wobbling stroke as path data. */
export function stroke(h: Hand, x1: number, y1: number, x2: number, y2: number, a = 1): string {
  const dx = x2 - x1;
  const dy = y2 - y1;
  const point = (x: number, y: number): string => `${round1(x + h.about(a))} ${round1(y + h.about(a))}`;
  return `M${point(x1, y1)}C${point(x1 + dx * 0.33, y1 + dy * 0.33)} ${point(x1 + dx * 0.66, y1 + dy * 0.66)} ${point(x2, y2)}`;
}

/** Broken lines along a surface: the fibres of cane, the grain of wood. */
export function fibres(
  h: Hand,
  x: number,
  y: number,
  w: number,
  height: number,
  lines: number,
  shortest: number,
  longest: number,
): string {
  let d = "";
  for (let i = 1; i <= lines; i++) {
    const at = y + (height * i) / (lines + 1);
    for (let from = x + 2 + h.next() * shortest; from < x + w - 8; ) {
      const to = Math.min(from + shortest + h.next() * (longest - shortest), x + w - 2);
      d += stroke(h, from, at + h.about(0.6), to, at + h.about(0.6), 0.5);
      from = to + 8 + h.next() * 26;
    }
  }
  return d;
}
