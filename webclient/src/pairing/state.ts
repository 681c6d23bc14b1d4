/** Is this device let in, and how does it pair, make codes, and look after the list of devices? */

import { signal } from "@preact/signals";
import { text } from "../logbook/read";
import { logbook } from "../logbook/state";
import {
  type AtMachine,
  type Code,
  type Phones,
  type Role,
  readAtMachines,
  readCode,
  readPhones,
  readWayIn,
  readWho,
  type WayIn,
  type Who,
} from "./model";

const PATIENCE_MS = 10_000;

/** null until the workshop has answered */
export const who = signal<Who | null>(null);
export const wayIn = signal<WayIn | null>(null);
export const phones = signal<Phones | null>(null);
export const atMachines = signal<AtMachine[]>([]);

/** `code`: the problem's name, "" where nobody answered. */
export type Said<T> = { ok: true; body: T } | { ok: false; code: string; wait_s: number };

const NOBODY = { ok: false, code: "", wait_s: 0 } as const;

/** Asks the workshop something; what comes back is read by `read`. */
export async function ask<T>(
  how: string,
  path: string,
  read: (body: unknown) => T | null,
  body?: unknown,
): Promise<Said<T>> {
  try {
    const answer = await fetch(path, {
      method: how,
      headers: { "content-type": "application/json", accept: "application/json" },
      cache: "no-store",
      redirect: "error",
      signal: AbortSignal.timeout(PATIENCE_MS),
      ...(body === undefined ? {} : { body: JSON.stringify(body) }),
    });
    const said: unknown = answer.status === 204 ? {} : await answer.json();
    if (answer.ok) {
      const found = read(said);
      return found === null ? NOBODY : { ok: true, body: found };
    }
    const code = (said as { code?: unknown } | null)?.code;
    const wait_s = Number(answer.headers.get("retry-after") ?? 0);
    return { ok: false, code: typeof code === "string" ? code : "", wait_s: wait_s || 0 };
  } catch {
    return NOBODY; // no network, or a captive portal's page
  }
}

export const anything = (body: unknown): unknown => body;

export async function askWho(): Promise<void> {
  const said = await ask("GET", "/api/who", readWho);
  if (said.ok) who.value = said.body;
}

/** With a code that was typed or read from the square. */
export async function pair(code: string): Promise<Said<Who>> {
  const name = text(logbook.row("device", logbook.device), "name");
  const said = await ask("POST", "/api/pair", readWho, { code, device: logbook.device, name });
  if (said.ok) who.value = said.body;
  return said;
}

export async function askPhones(): Promise<void> {
  const said = await ask("GET", "/api/phones", readPhones);
  if (said.ok) phones.value = said.body;
}

/** Are phones let through the second door? Switched only at the machine itself. */
export async function askWayIn(): Promise<void> {
  const said = await ask("GET", "/api/way_in", readWayIn);
  if (said.ok) wayIn.value = said.body;
}

export async function switchWayIn(on: boolean): Promise<Said<WayIn>> {
  const said = await ask("PUT", "/api/way_in", readWayIn, { on });
  if (said.ok) wayIn.value = said.body;
  await askPhones();
  return said;
}

export const makeCode = (role: Role): Promise<Said<Code>> =>
  ask("POST", "/api/phones/codes", readCode, { role });

export const endCode = (): Promise<Said<unknown>> => ask("DELETE", "/api/phones/codes", anything);

export async function change(id: string, to: { name: string; role: Role }): Promise<Said<unknown>> {
  const said = await ask("PATCH", `/api/phones/${encodeURIComponent(id)}`, anything, to);
  await askPhones();
  return said;
}

/** It may not come in any more; once more takes it off the list. */
export async function withdraw(id: string): Promise<Said<unknown>> {
  const said = await ask("DELETE", `/api/phones/${encodeURIComponent(id)}`, anything);
  await askPhones();
  return said;
}

export async function askAtMachines(): Promise<void> {
  const said = await ask("GET", "/api/at_machines", readAtMachines);
  if (said.ok) atMachines.value = said.body;
}
