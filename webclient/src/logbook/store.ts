/** Where does this phone keep what was written, so that a dead battery takes none of it? (IndexedDB) */

import type { DBSchema, IDBPDatabase, IDBPTransaction, StoreNames } from "idb";
import { openDB } from "./database";
import type { Change, End, Kept, Row } from "./model";

export interface OutboxEntry {
  /** its place in the order made on this phone; given by the store */
  n: number;
  id: string;
  change: Change;
}

export interface Again extends Kept {
  id: string;
  /** 1 while it waits to be sent once more to a restored logbook (a number, for the index) */
  again: 0 | 1;
}

export interface RefusedEntry {
  id: string;
  change: Change;
  problem: string;
}

export interface Meta {
  device: string;
  logbook: string | null;
  cursor: number;
  end: End | null;
  safe: number;
  lastExchange: string | null;
}

export interface Shape extends DBSchema {
  base: { key: [string, string]; value: Row };
  offers: { key: [string, string]; value: Row };
  outbox: { key: number; value: OutboxEntry; indexes: { id: string } };
  kept: { key: number; value: Again; indexes: { id: string; seq: number; again: number } };
  refused: { key: string; value: RefusedEntry };
  meta: { key: string; value: unknown };
}

export type Name = StoreNames<Shape>;
export type Work = IDBPTransaction<Shape, Name[], "readwrite">;

export const ALL: Name[] = ["base", "offers", "outbox", "kept", "refused", "meta"];
const FORMAT = 1;

function make(db: IDBPDatabase<Shape>): void {
  db.createObjectStore("base", { keyPath: ["kind", "id"] });
  db.createObjectStore("offers", { keyPath: ["kind", "id"] });
  db.createObjectStore("outbox", { keyPath: "n", autoIncrement: true }).createIndex("id", "id", {
    unique: true,
  });
  const kept = db.createObjectStore("kept", { keyPath: "n" });
  for (const name of ["id", "seq", "again"] as const) kept.createIndex(name, name);
  db.createObjectStore("refused", { keyPath: "id" });
  db.createObjectStore("meta");
}

export interface StoreSays {
  /** an older tab holds the store open and must be closed */
  blocked(isBlocked: boolean): void;
}

export class Store {
  private opening: Promise<IDBPDatabase<Shape>> | null = null;

  constructor(
    private readonly name = "easelside",
    private readonly says: StoreSays = { blocked: () => undefined },
    private readonly factory: () => IDBFactory | Promise<IDBFactory> = () => indexedDB,
  ) {}

  private handle(): Promise<IDBPDatabase<Shape>> {
    this.opening ??= this.reopened();
    return this.opening;
  }

  private async reopened(): Promise<IDBPDatabase<Shape>> {
    try {
      const db = await openDB<Shape>(
        this.name,
        FORMAT,
        {
          upgrade: (fresh, from) => {
            if (from < 1) make(fresh);
          },
          blocked: () => this.says.blocked(true),
          // A newer version in another tab waits for this one: let go at once, reopen when next needed.
          blocking: () => this.drop(),
          terminated: () => this.drop(),
        },
        await this.factory(),
      );
      this.says.blocked(false);
      return db;
    } catch (problem) {
      this.opening = null; // a failure is never remembered
      throw problem;
    }
  }

  /** Lets the handle go; the next piece of work opens a new one. */
  drop(): void {
    const held = this.opening;
    this.opening = null;
    held?.then(
      (db) => db.close(),
      () => undefined,
    );
  }

  /**
   * One strict transaction. A handle that died (a phone woken from sleep) is opened anew and the work done
   * once more; `work` must therefore depend on nothing but what it reads in the transaction.
   */
  async inOne<T>(work: (all: Work) => Promise<T>): Promise<T> {
    try {
      return await this.once(work);
    } catch {
      this.drop();
      return await this.once(work);
    }
  }

  private async once<T>(work: (all: Work) => Promise<T>): Promise<T> {
    const db = await this.handle();
    const all = db.transaction(ALL, "readwrite", { durability: "strict" });
    try {
      const result = await work(all);
      await all.done;
      return result;
    } catch (problem) {
      all.done.catch(() => undefined);
      try {
        all.abort();
      } catch {
        // it has ended already
      }
      throw problem;
    }
  }

  /** Puts new changes behind those that wait. A change that is there already is left as it is. */
  async add(changes: readonly Change[]): Promise<void> {
    await this.inOne(async (all) => {
      const outbox = all.objectStore("outbox");
      for (const change of changes) {
        if ((await outbox.index("id").getKey(change.id)) !== undefined) continue;
        // n comes from the store's own counter: it alone knows the order among several tabs
        await outbox.add({ id: change.id, change } as OutboxEntry);
      }
    });
  }

  async read<T>(work: (all: IDBPTransaction<Shape, Name[], "readonly">) => Promise<T>): Promise<T> {
    const once = async () => work((await this.handle()).transaction(ALL, "readonly"));
    try {
      return await once();
    } catch {
      this.drop();
      return await once();
    }
  }
}

const FIRST: Omit<Meta, "device"> = { logbook: null, cursor: 0, end: null, safe: 0, lastExchange: null };

interface MetaReader {
  get(key: string): Promise<unknown>;
}

/** What the phone knows of the logbook; null on a phone that has never written anything. */
export async function readMeta(meta: MetaReader): Promise<Meta | null> {
  const [device, rest] = await Promise.all([meta.get("device"), meta.get("logbook")]);
  if (typeof device !== "string") return null;
  return { ...FIRST, ...(rest as Partial<Meta> | undefined), device };
}

interface MetaWriter {
  put(value: unknown, key: string): Promise<unknown>;
}

/** The device's id stands apart: it is written once, and no answer of a server ever changes it. */
export async function writeMeta(meta: MetaWriter, known: Meta): Promise<void> {
  const { device: _device, ...rest } = known;
  await meta.put(rest, "logbook");
}
