/** What do a lot and a session add to all of their pieces, and what does a piece tell beside that? Pure. */

export interface Spread {
  /** log minutes within and between sessions */
  sigma: number;
  tau: number;
}

const DRAWN_IN = 3;
const ODD = 4;
const ODD_MINUTES = 0.55;
const SET = 0.03;

export class Level {
  readonly square: number;
  private readonly between: number;
  /** The session's pieces, and the sum of what they are off the usual. */
  private n = 0;
  private off = 0;
  /** The same of the lot's sessions that are over, each by how much it tells; what the lot may add, squared. */
  private p = 0;
  private t = 0;
  private lots = SET ** 2;

  constructor({ sigma, tau }: Spread) {
    this.square = sigma ** 2;
    this.between = tau ** 2;
  }

  /** A session's own deviation with those of its pieces. */
  get whole(): number {
    return this.square + this.n * this.between;
  }

  /** How much of what its pieces are off is the session's, and how much the lot's; by how much they are off. */
  ofSession(): { share: number; off: number } {
    return { share: this.between / (this.square * this.whole), off: this.off };
  }

  ofLot(): { share: number; off: number } {
    const told = this.p + this.n / this.whole;
    return { share: this.lots / (1 + this.lots * told), off: this.t + this.off / this.whole };
  }

  /** Log minutes less the usual, as they count: far from what the pieces before lead to expect of an edge that is well,
   * they are drawn in; farther still, they say nothing (null). */
  told(off: number | null): number | null {
    const { share, off: ofLot } = this.ofLot();
    const part = this.square / this.whole;
    const expected = part * share * ofLot + (this.between * this.off) / this.whole;
    const spread = Math.sqrt(this.square + this.between * part + share * part * part);
    const fromIt = (off ?? 0) - expected;
    if (off === null || Math.abs(fromIt) > Math.max(ODD * spread, ODD_MINUTES)) return null;
    const e = expected + Math.max(-DRAWN_IN * spread, Math.min(DRAWN_IN * spread, fromIt));
    this.n += 1;
    this.off += e;
    return e;
  }

  endSession(): void {
    this.p += this.n / this.whole;
    this.t += this.off / this.whole;
    this.n = this.off = 0;
  }

  /** `error`: how well its usual minutes are known. */
  newLot(error: number): void {
    this.p = this.t = 0;
    this.lots = SET ** 2 + error ** 2;
  }
}
