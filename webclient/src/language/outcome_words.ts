/** What became of pieces, as it is said in every room. */
import { number, plural } from "./format";

type Outcome = "good" | "second" | "lost";

/** Only "second" has a plural of its own. */
export const outcomeCount = (one: Outcome, n: number): string =>
  `${number(n)} ${one === "second" ? plural(n, { one, other: "seconds" }) : one}`;

/** "5 good, 1 lost": what there is none of is left out; `none` where there is nothing of any. */
export const outcomeCounts = (counts: Record<Outcome, number>, none: string): string =>
  (["good", "second", "lost"] as const)
    .filter((one) => counts[one] > 0)
    .map((one) => outcomeCount(one, counts[one]))
    .join(", ") || none;
