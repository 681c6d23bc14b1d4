// Where does a chance that only rises reach a level? What every forecast's range is found with.

const STEPS = 60;
const CLOSE = 1e-8;

/** The least x from 0 on at which `rises` reaches the level; `about`: the size of number that it may be. */
export function whereReached(rises: (x: number) => number, level: number, about: number): number {
  let low = 0;
  let below = rises(low) - level;
  if (below >= 0) return low;
  let high = about;
  let above = rises(high) - level;
  for (let k = 0; k < STEPS && above < 0; k += 1) {
    [low, below] = [high, above];
    high *= 2;
    above = rises(high) - level;
  }
  let side = 0;
  for (let k = 0; k < STEPS; k += 1) {
    // By the chord (Illinois); each third time by halves, so that it never creeps.
    const x = k % 3 === 2 ? (low + high) / 2 : high - (above * (high - low)) / (above - below);
    const off = rises(x) - level;
    if (Math.abs(off) < CLOSE || high - low < CLOSE * high) return x;
    if (off < 0) {
      [low, below] = [x, off];
      if (side < 0) above /= 2;
      side = -1;
    } else {
      [high, above] = [x, off];
      if (side > 0) below /= 2;
      side = 1;
    }
  }
  return (low + high) / 2;
}
