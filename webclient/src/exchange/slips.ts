/** When are the slips fetched? Whenever an answer names a revision that this phone does not hold. */

import { effect } from "@preact/signals";
import type { Values } from "../logbook/model";
import { type Held, heldSlips, openSlips, type Slip, takeSlips } from "../logbook/slips";
import { logbook } from "../logbook/state";

const isThing = (value: unknown): value is { [name: string]: unknown } =>
  typeof value === "object" && value !== null && !Array.isArray(value);

const isSlip = (value: unknown): value is Slip =>
  isThing(value) &&
  typeof value.kind === "string" &&
  typeof value.subject === "string" &&
  Number.isSafeInteger(value.as_of_seq) &&
  Number.isSafeInteger(value.observations) &&
  isThing(value.body as Values);

/** null where it is not the server's answer: a captive portal harms nothing. */
export function readSlips(body: string): Held | null {
  try {
    const all: unknown = JSON.parse(body);
    if (!isThing(all) || typeof all.logbook !== "string" || !Number.isSafeInteger(all.rev)) return null;
    if (!Array.isArray(all.slips) || !all.slips.every(isSlip)) return null;
    return { logbook: all.logbook, rev: all.rev as number, slips: all.slips };
  } catch {
    return null;
  }
}

async function ask(logbookId: string): Promise<void> {
  const held = heldSlips();
  const after = held?.logbook === logbookId ? held.rev : 0;
  try {
    const response = await fetch(`/api/exchange/slips?after=${after}`, { redirect: "error" });
    const news = response.ok ? readSlips(await response.text()) : null;
    if (news) await takeSlips(news);
  } catch {
    // no network, or no room: the next exchange names them again
  }
}

export async function keepSlips(): Promise<() => void> {
  await openSlips().catch(() => undefined);
  let asked: Promise<void> | null = null;
  let last = "";
  return effect(() => {
    const { slips, lastExchange } = logbook.status.value;
    const held = heldSlips();
    // after each exchange once, for as long as what it named is not held
    if (!slips || asked || last === lastExchange || slips === `${held?.logbook}/${held?.rev}`) return;
    last = lastExchange ?? "";
    asked = ask(slips.split("/")[0] ?? "").finally(() => {
      asked = null;
    });
  });
}
