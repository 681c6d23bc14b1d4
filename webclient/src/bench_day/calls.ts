/** What the workshop calls with beyond this phone: asked of it whenever this page is looked at. */
import { effect, signal } from "@preact/signals";
import {
  type CalendarMade,
  type CalendarStands,
  readBell,
  readCalendar,
  readMade,
  readPush,
} from "../alarms/model";
import { bell, push, subscribed } from "../alarms/phone_state";
import { ownSubscription } from "../alarms/push";
import { nowText } from "../clock";
import { letIn } from "../exchange/state";
import { logbook } from "../logbook/state";
import { anything, ask } from "../pairing/state";

export const calendar = signal<CalendarStands | null>(null);
/** Shown until the page is closed: the workshop tells it once. */
export const made = signal<CalendarMade | null>(null);

async function into<T>(
  at: { value: T | null },
  path: string,
  read: (body: unknown) => T | null,
): Promise<void> {
  const said = await ask("GET", path, read);
  at.value = said.ok ? said.body : null;
}

export async function askPush(): Promise<void> {
  subscribed.value = await ownSubscription().catch(() => null);
  await into(push, "/api/push", readPush);
}
export const askBell = (): Promise<void> => into(bell, "/api/bell", readBell);
export const askCalendar = (): Promise<void> => into(calendar, "/api/calendar", readCalendar);

export async function switchPush(on: boolean, contact: string): Promise<boolean> {
  const said = await ask("PUT", "/api/push", readPush, {
    on,
    contact: contact === "" ? null : `mailto:${contact}`,
  });
  if (said.ok) push.value = said.body;
  return said.ok;
}

/** How many messages are on their way to this device; null: nobody answered. */
export async function tryPush(): Promise<number | null> {
  const said = await ask("POST", "/api/push/trial", anything, { device: logbook.device });
  const { messages } = (said.ok ? said.body : {}) as { messages?: unknown };
  return typeof messages === "number" ? messages : null;
}

export async function tryBell(): Promise<boolean> {
  const said = await ask("POST", "/api/bell/trial", readBell, {});
  if (said.ok) bell.value = said.body;
  return said.ok;
}

export async function makeAddress(): Promise<boolean> {
  const said = await ask("POST", "/api/calendar", readMade, {});
  if (said.ok) made.value = said.body;
  await askCalendar();
  return said.ok;
}

export async function withdrawAddress(): Promise<boolean> {
  const said = await ask("DELETE", "/api/calendar", anything);
  if (said.ok) made.value = null;
  await askCalendar();
  return said.ok;
}

/** Written down for this device: what came or was heard; null: to be tried anew. */
export function keepTrial(what: "push" | "bench", rang: boolean | null): void {
  const said = rang === null ? null : { rang, at: nowText() };
  logbook.write([{ kind: "device", record: logbook.device, set: { [`check/${what}`]: said } }]);
}

/** The line beside a soak speaks of these too. */
export function startAsking(): void {
  const look = (): void => {
    if (document.hidden || letIn.peek() !== "yes") return;
    void askBell();
    void askPush();
  };
  document.addEventListener("visibilitychange", look);
  effect(() => {
    if (letIn.value === "yes") look();
  });
}
