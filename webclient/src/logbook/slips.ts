/** What did the server fit from the records, for this phone to say without a network what will be? */

import { signal } from "@preact/signals";
import type { Values } from "./model";
import { logbook, newId } from "./state";
import { readMeta } from "./store";

/** `observations`: how many records it rests on. A slip with an empty body was withdrawn. */
export interface Slip {
  kind: string;
  subject: string;
  as_of_seq: number;
  observations: number;
  body: Values;
}

/** All slips as of one revision of one logbook. */
export interface Held {
  logbook: string;
  rev: number;
  slips: Slip[];
}

const NAME = "slips"; // in the store's meta: some ten kilobytes, replaced whole
const held = signal<Held | null>(null);

/** Reactive; undefined while the server has said nothing of it. */
export function slip(kind: string, subject: string): Slip | undefined {
  return held.value?.slips.find((one) => one.kind === kind && one.subject === subject);
}

export function slips(kind: string): Slip[] {
  return held.value?.slips.filter((one) => one.kind === kind) ?? [];
}

export const heldSlips = (): Held | null => held.peek();

/** The same, reactive: another one once any slip has changed. */
export const shownSlips = (): Held | null => held.value;

/** Those of another logbook are dropped. */
export async function openSlips(): Promise<void> {
  await logbook.store.read(async (all) => {
    const meta = all.objectStore("meta");
    const kept = (await meta.get(NAME)) as Held | undefined;
    const known = await readMeta(meta);
    if (kept && kept.logbook === known?.logbook) held.value = kept;
  });
}

/** False where they rest on records that this phone has not heard of yet: then they are asked for again. */
export async function takeSlips(news: Held): Promise<boolean> {
  const before = held.peek();
  const isSame = before?.logbook === news.logbook;
  const replaced = new Set(news.slips.map(nameOf));
  const others = isSame ? before.slips.filter((one) => !replaced.has(nameOf(one))) : [];
  const now: Held = {
    ...news,
    slips: [...others, ...news.slips.filter(({ body }) => Object.keys(body).length > 0)],
  };
  const isTaken = await logbook.store.inOne(async (all) => {
    const meta = all.objectStore("meta");
    const known = await readMeta(meta);
    const newest = Math.max(0, ...news.slips.map(({ as_of_seq }) => as_of_seq));
    if (known?.logbook !== news.logbook || known.cursor < newest) return false;
    await meta.put(now, NAME);
    return true;
  });
  if (isTaken) held.value = now;
  return isTaken;
}

const nameOf = ({ kind, subject }: Slip): string => `${kind}/${subject}`;

/** For tests. */
export function showSlips(some: readonly Partial<Slip>[]): void {
  const whole = { kind: "", subject: "all", as_of_seq: 0, observations: 0, body: {} };
  held.value = { logbook: newId(), rev: 1, slips: some.map((one) => ({ ...whole, ...one })) };
}
