/** What has been typed of the code, how long is it good, and when is a line that ended opened again? */

import type { AtMachine } from "./model";

export const FIGURES = 6;

/** One key of the pad: a figure, or the last one taken back. What is full takes no more. */
export function typed(before: string, key: string): string {
  if (key === "back") return before.slice(0, -1);
  return /^[0-9]$/.test(key) && before.length < FIGURES ? before + key : before;
}

/** Whole minutes that a code is still good, rounded up; 0 once it has ended. */
export function goodFor_min(ends: string, now: number): number {
  const left = Date.parse(ends) - now;
  return left > 0 ? Math.ceil(left / 60_000) : 0;
}

/** The latest at each machine; machines in the order given, those at which nobody is left out. */
export function latestAt(all: readonly AtMachine[], machines: readonly string[]): AtMachine[] {
  return machines.flatMap((machine) => {
    const here = all.filter((one) => one.machine === machine);
    const last = here.reduce<AtMachine | null>((a, b) => (a === null || a.at < b.at ? b : a), null);
    return last === null ? [] : [last];
  });
}

export const ASK_AGAIN_MS = 60_000;
const SOON_MS = 3000;

/** How the line to the workshop ended: told by the server, refused by it, or the server is closing. */
export type LineEnd = "replaced" | "ended" | "refused" | "closing";

/** In how many ms it is tried again; spread by `chance` (0 to 1), so that not all come at once. */
export function lineAgain_ms(end: LineEnd, chance: number): number {
  return (end === "closing" ? SOON_MS : ASK_AGAIN_MS) * (0.75 + chance / 2);
}

/** Until the exchange that a change elsewhere asks for: together with the line well below a second. */
export function hearingSpread_ms(chance: number): number {
  return Math.round(chance * 250);
}

/** The code in what a camera read: the square's own link, whatever address it leads to; null: another square. */
export const codeIn = (link: string): string | null => /#\/p\/([A-Z2-7]{16})$/.exec(link)?.[1] ?? null;
