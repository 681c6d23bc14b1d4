/** What takes the records along, and brings them in: files, the phone's own way of sharing, and an empty workshop. */

import { signal } from "@preact/signals";
import { nowText } from "../clock";
import type { Change, Row } from "../logbook/model";
import { text } from "../logbook/read";
import { logbook } from "../logbook/state";
import { stateHash } from "./hash";
import { isRemoved } from "./model";
import { isChange, readWhole, told, Unusable, wholeText } from "./whole";

/** A laptop's width: tables stand in place of lists. */
export const wide = signal(false);
if (typeof matchMedia === "function") {
  const query = matchMedia("(min-width: 1000px)");
  wide.value = query.matches;
  query.addEventListener("change", () => (wide.value = query.matches));
}

export interface TextFile {
  name: string;
  type: string;
  text: string;
}

/** Into the phone's downloads; needs no network. */
export function save(file: TextFile): void {
  const url = URL.createObjectURL(new Blob([file.text], { type: file.type }));
  const link = document.createElement("a");
  link.href = url;
  link.download = file.name;
  link.click();
  setTimeout(() => URL.revokeObjectURL(url), 60_000);
}

const asFile = (file: TextFile): File => new File([file.text], file.name, { type: file.type });

export function canShare(): boolean {
  const probe = { files: [new File([""], "a.csv", { type: "text/csv" })] };
  return typeof navigator.canShare === "function" && navigator.canShare(probe);
}

/** By the phone's own sheet. False where the person put it away. */
export async function share(file: TextFile): Promise<boolean> {
  try {
    await navigator.share({ files: [asFile(file)], title: file.name });
    return true;
  } catch {
    return false;
  }
}

/** Every record that this phone holds, removed ones too. */
export const everything = (): Row[] => logbook.kindsHeld().flatMap((kind) => logbook.all(kind));

/** What was removed; what went with something else stands under that. */
export function hidden(): Row[] {
  const gone = everything().filter(isRemoved);
  const ids = new Set(gone.map(({ id }) => id));
  return gone.filter((row) => !ids.has(text(row, "removed_with") ?? ""));
}

export const isEmpty = (): boolean => everything().length === 0;

/** All that this phone holds, in the form that comes back word for word. */
export function wholeFile(day: string): TextFile {
  return {
    name: `easelside-${day}.json`,
    type: "application/json",
    text: wholeText(everything(), nowText(), logbook.device),
  };
}

export type Brought =
  | { done: true; records: number; state: string }
  | { done: false; why: "not_empty" | "not_ours" | "newer" | "damaged" | "not_same" };

/** The records of a file into this workshop, if nothing stands in it yet. */
export async function bringIn(text: string): Promise<Brought> {
  if (!isEmpty()) return { done: false, why: "not_empty" };
  try {
    const { records, changes } = readWhole(text);
    await logbook.takeIn(changes);
    const state = stateHash(everything().map(told));
    return state === stateHash(records)
      ? { done: true, records: records.length, state }
      : { done: false, why: "not_same" };
  } catch (problem) {
    if (problem instanceof Unusable) return { done: false, why: problem.code };
    throw problem;
  }
}

/** What the workshop holds of a record's past; nothing where there is no network. */
export async function workshopHistory(kind: string, record: string): Promise<Change[]> {
  try {
    const answer = await fetch(`/api/past/${encodeURIComponent(kind)}/${encodeURIComponent(record)}`, {
      signal: AbortSignal.timeout(8000),
    });
    if (!answer.ok) return [];
    const { changes } = (await answer.json()) as { changes?: unknown };
    return Array.isArray(changes) ? changes.filter(isChange) : [];
  } catch {
    return []; // no network, or a captive portal's page
  }
}
