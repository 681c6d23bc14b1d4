/** IndexedDB's requests as promises: as much of the package idb as the store needs, in its types, at a fifth of its size. */

import type { DBSchema, IDBPDatabase, OpenDBCallbacks } from "idb";

function answerOf<T>(request: IDBRequest<T>): Promise<T> {
  return new Promise((done, fail) => {
    request.onsuccess = () => done(request.result);
    request.onerror = () => fail(request.error);
  });
}

type Asked = "get" | "getKey" | "getAll" | "getAllKeys" | "put" | "add" | "delete" | "clear";
const ASKED: Asked[] = ["get", "getKey", "getAll", "getAllKeys", "put", "add", "delete", "clear"];

/** A store or an index with promises in place of requests. */
function promising(held: IDBObjectStore | IDBIndex): object {
  const with_ = held as unknown as Record<Asked, (...args: unknown[]) => IDBRequest>;
  const asked = ASKED.map((name) => [name, (...args: unknown[]) => answerOf(with_[name](...args))]);
  return {
    ...Object.fromEntries(asked),
    index: (name: string) => promising((held as IDBObjectStore).index(name)),
  };
}

function transaction(all: IDBTransaction): object {
  const done = new Promise<void>((kept, lost) => {
    all.oncomplete = () => kept();
    all.onabort = () => lost(all.error ?? new DOMException("the transaction was given up", "AbortError"));
  });
  done.catch(() => undefined); // who waits for it hears of it all the same
  return { done, abort: () => all.abort(), objectStore: (name: string) => promising(all.objectStore(name)) };
}

/** What offline/begin.js opened while this script was still on its way: once, and only if it is the version that is wanted. */
async function begunAs(name: string, version: number): Promise<IDBDatabase | null> {
  const page = globalThis as { begun?: Promise<IDBDatabase | null> | undefined };
  const db = await page.begun;
  page.begun = undefined;
  if (db?.name === name && db.version === version) return db;
  db?.close();
  return null;
}

/** Opens a database; the callbacks are idb's. `upgrade` gets the plain database, in whose upgrade it runs. */
export async function openDB<Shape extends DBSchema>(
  name: string,
  version: number,
  calls: Pick<OpenDBCallbacks<Shape>, "upgrade" | "blocked" | "blocking" | "terminated">,
  factory: IDBFactory,
): Promise<IDBPDatabase<Shape>> {
  const as = <T>(plain: unknown) => plain as T;
  const opened = (): Promise<IDBDatabase> => {
    const request = factory.open(name, version);
    request.onupgradeneeded = (event) => {
      calls.upgrade?.(as(request.result), event.oldVersion, event.newVersion, as(request.transaction), event);
    };
    request.onblocked = (event) => calls.blocked?.(event.oldVersion, event.newVersion, event);
    return answerOf(request);
  };
  const db = (await begunAs(name, version)) ?? (await opened());
  db.onversionchange = (event) => calls.blocking?.(event.oldVersion, event.newVersion, event);
  db.onclose = () => calls.terminated?.();
  return as({
    close: () => db.close(),
    transaction: (...how: Parameters<IDBDatabase["transaction"]>) => transaction(db.transaction(...how)),
  });
}
