/** The server did not answer: when is it asked again? Pure; chance comes in. */

const FIRST_MS = 1000;
const LONGEST_MS = 60_000;

/**
 * Milliseconds until the next try after `failures` in a row: doubled each time up to a minute, spread by
 * `chance` (0 to 1) so that a workshop's phones do not all ask at once. Unseen, never sooner than a minute.
 */
export function waitAfter(failures: number, isSeen: boolean, chance: number): number {
  const grown = Math.min(FIRST_MS * 2 ** Math.min(failures - 1, 10), LONGEST_MS);
  const spread = grown * (0.5 + chance);
  return isSeen ? spread : Math.max(spread, LONGEST_MS);
}
