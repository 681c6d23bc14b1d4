/** Do chosen run rules signal on an edge? Pure. */

/** The run rules that can be chosen: L. S. Nelson 1984 (those by zones), Western Electric 1956. */
export const NELSON = ["nelson 1", "nelson 2", "nelson 5", "nelson 6"] as const;
export const WESTERN = [1, 2, 3, 4].map((n) => `western electric ${n}`);

/** Where chosen rules signal, counted from 1. `z`: values less the usual, in sigma. */
export function runRules(z: readonly number[], rules: readonly string[]): number[] {
  const some = (upTo: number, some: number, of: number, beyond: number): boolean =>
    [1, -1].some((side) => {
      const newest = z.slice(Math.max(0, upTo - of), upTo).map((value) => value * side > beyond);
      return newest.at(-1) === true && newest.filter(Boolean).length >= some;
    });
  const tests: Record<string, (upTo: number) => boolean> = {
    "1": (n) => some(n, 1, 1, 3),
    "nelson 2": (n) => some(n, 9, 9, 0),
    "two of three": (n) => some(n, 2, 3, 2),
    "four of five": (n) => some(n, 4, 5, 1),
    "western electric 4": (n) => some(n, 8, 8, 0),
  };
  const alike: Record<string, string> = {
    "nelson 1": "1",
    "western electric 1": "1",
    "nelson 5": "two of three",
    "western electric 2": "two of three",
    "nelson 6": "four of five",
    "western electric 3": "four of five",
  };
  return z.flatMap((_, i) =>
    rules.some((rule) => tests[alike[rule] ?? rule]?.(i + 1) === true) ? [i + 1] : [],
  );
}
