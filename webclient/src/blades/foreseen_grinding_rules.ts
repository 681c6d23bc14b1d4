// How many blades are needed, and what goes to be ground now: one by one, or by the box?

/** Edges that are used up in some days: a Poisson number round `mean`. The chance that no more than so many are. */
export function atMost(mean: number, blades: number): number {
  if (blades < 0) return 0;
  let term = Math.exp(-mean);
  let total = term;
  for (let k = 1; k <= blades; k += 1) {
    term *= mean / k;
    total += term;
  }
  return Math.min(1, total);
}

const moreThan = (mean: number, blades: number): number => Math.max(0, 1 - atMost(mean, blades));

/** `perDay`: pieces; `days`: that a blade is away. */
export interface Demand {
  piecesPerEdge: number;
  perDay: number;
  days: number;
}

const meanOf = ({ piecesPerEdge, perDay, days }: Demand): number =>
  piecesPerEdge > 0 ? Math.min(500, (perDay * days) / piecesPerEdge) : 0;

/** The chance of standing without a blade, with so many that cut, the one in use among them. */
export const chanceWithout = (blades: number, demand: Demand): number => moreThan(meanOf(demand), blades - 1);

/** How many blades, the one in use among them, keep that chance at `risk` or below. */
export function bladesNeeded(demand: Demand, risk: number): number {
  const mean = meanOf(demand);
  let spare = 0;
  while (moreThan(mean, spare) > risk && spare < 1000) spare += 1;
  return spare + 1;
}

/** The part of the time in which all blades are away and work rests: Erlang's loss formula. */
export function shareWithout(blades: number, demand: Demand): number {
  const mean = meanOf(demand);
  let share = 1;
  for (let k = 1; k <= blades; k += 1) share = (mean * share) / (k + mean * share);
  return share;
}

/** `blunt` wait here, `keen` are here and cut (the one in use among them), `away` are being ground. */
export interface BladesAt {
  blunt: number;
  keen: number;
  away: number;
}

/** What one blade alone, and a box of so many, costs; null: not said. */
export interface Prices {
  one: number | null;
  box: number | null;
  box_of: number;
}

export interface Advice {
  when: "nothing" | "wait" | "one" | "box";
  send: number;
  wait_for: number;
  /** The costs are of so many: of those sent, or of the full box that is waited for. */
  counted: number;
  cost_one_by_one: number | null;
  cost_box: number | null;
  risk_now: number;
  risk_waiting: number;
}

/** What to send now. The box is waited for while that is cheaper and leaves a blade here nearly always. */
export function advice(blades: BladesAt, prices: Prices, demand: Demand, risk = 0.05): Advice {
  const mean = meanOf(demand);
  const missing = Math.max(0, prices.box_of - blades.blunt);
  const risk_waiting = moreThan(mean, blades.keen - missing - 1);
  const when = whenTo(blades, prices, missing, risk_waiting <= risk);
  const counted = when === "wait" || when === "nothing" ? prices.box_of : blades.blunt;
  return {
    when,
    send: when === "one" || when === "box" ? blades.blunt : 0,
    wait_for: when === "wait" ? missing : 0,
    counted,
    cost_one_by_one: prices.one === null ? null : prices.one * counted,
    cost_box: prices.box === null ? null : prices.box * Math.ceil(counted / prices.box_of),
    risk_now: moreThan(mean, blades.keen - 1),
    risk_waiting,
  };
}

function whenTo(blades: BladesAt, prices: Prices, missing: number, canWait: boolean): Advice["when"] {
  if (blades.blunt === 0) return "nothing";
  const isTold = prices.one !== null && prices.box !== null;
  const one = prices.one ?? 0;
  const box = prices.box ?? 0;
  if (missing === 0) return isTold && box >= one * prices.box_of ? "one" : "box";
  if (isTold && box < one * blades.blunt) return "box";
  const isWorthIt = !isTold || box < one * prices.box_of;
  const canFill = blades.blunt + blades.keen + blades.away >= prices.box_of;
  return isWorthIt && canFill && canWait ? "wait" : "one";
}
