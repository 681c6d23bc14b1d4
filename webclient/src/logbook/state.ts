/** What is written on this phone, as the screens see it: shown at once, kept a moment later. */

import { batch, type ReadonlySignal, type Signal, signal } from "@preact/signals";
import { now, nowText } from "../clock";
import { uuid7 } from "./ids";
import { isRemoved, seen, shown, withOffer } from "./merge";
import type { Change, Edit, Row, Value } from "./model";
import { readMeta, Store } from "./store";
import { storageKept } from "./storage_marker";

export { pieceId } from "./ids";

/** A new UUIDv7: a record's or a change's id. */
export function newId(): string {
  return uuid7(now(), crypto.getRandomValues(new Uint8Array(10)));
}

export interface Status {
  unsent: number;
  keeping: "saved" | "saving" | "not_saved";
  exchange: "never" | "ok" | "waiting";
  lastExchange: string | null;
  /** phone's clock less the server's; null while unknown */
  clockOff_ms: number | null;
}

/** Something that the maker should be asked or told; `kind` says which room words it. */
export interface Asked {
  id: string;
  kind:
    | "refused"
    | "clock"
    | "clock_jump"
    | "restored"
    | "update"
    | "evicted"
    | "lost"
    | "take_back"
    | "blocked";
  facts: { [name: string]: Value };
  /** what can be done about it; absent where it can only be put away */
  act?: () => void;
}

interface Held {
  base: Row | undefined;
  offer: Row | undefined;
  outbox: Change[];
  shown: Row | undefined;
}

/** One kind's records, kept in the order of their ids. */
class Kind {
  readonly held = new Map<string, Held>();
  readonly version = signal(0);
  rows: Row[] = [];

  at(id: string): Held {
    let held = this.held.get(id);
    if (!held) {
      held = { base: undefined, offer: undefined, outbox: [], shown: undefined };
      this.held.set(id, held);
    }
    return held;
  }

  private place(id: string): number {
    let low = 0;
    let high = this.rows.length;
    while (low < high) {
      const middle = (low + high) >> 1;
      if ((this.rows[middle]?.id ?? "") < id) low = middle + 1;
      else high = middle;
    }
    return low;
  }

  /** Works out anew what is shown of one record. */
  renew(id: string): void {
    const held = this.at(id);
    held.shown = shown(withOffer(held.base, held.offer), held.outbox);
    const place = this.place(id);
    const stands = this.rows[place]?.id === id;
    const isSeen = held.shown !== undefined && !isRemoved(held.shown);
    const rows = this.rows.slice();
    if (isSeen && held.shown) rows.splice(place, stands ? 1 : 0, held.shown);
    else if (stands) rows.splice(place, 1);
    this.rows = rows;
    this.version.value = this.version.peek() + 1;
  }

  /** All at once, at the start. */
  renewAll(): void {
    const rows: Row[] = [];
    for (const held of this.held.values()) {
      held.shown = shown(withOffer(held.base, held.offer), held.outbox);
      if (held.shown && !isRemoved(held.shown)) rows.push(held.shown);
    }
    this.rows = rows.sort((a, b) => (a.id < b.id ? -1 : a.id > b.id ? 1 : 0));
    this.version.value = this.version.peek() + 1;
  }
}

interface Waiting {
  changes: Change[];
  kept: () => void;
}

const RETRY_MS = [500, 1000, 2000, 5000];

export class Logbook {
  readonly status: Signal<Status> = signal({
    unsent: 0,
    keeping: "saved",
    exchange: "never",
    lastExchange: null,
    clockOff_ms: null,
  });
  readonly questions: Signal<Asked[]> = signal([]);
  device = "";

  private readonly kinds = new Map<string, Kind>();
  /** ids of the changes that the store holds and the server has not acknowledged */
  private unsent = new Set<string>();
  private waiting: Waiting[] = [];
  private isKeeping = false;
  private failures = 0;
  private retry: ReturnType<typeof setTimeout> | null = null;
  private readonly listeners = new Set<(touched: [string, string][]) => void>();

  constructor(readonly store: Store = new Store()) {}

  private kind(name: string): Kind {
    let kind = this.kinds.get(name);
    if (!kind) {
      kind = new Kind();
      this.kinds.set(name, kind);
    }
    return kind;
  }

  /** Reads everything in. Works on in memory where the store cannot be opened, and keeps trying. */
  async open(): Promise<void> {
    try {
      await this.load();
    } catch {
      if (!this.device) this.device = newId();
      this.say({ keeping: "not_saved" });
      this.tryLater();
    }
  }

  private isLoaded = false;

  private async load(): Promise<void> {
    const found = await this.store.inOne(async (all) => {
      const meta = all.objectStore("meta");
      let known = await readMeta(meta);
      const isNew = known === null;
      if (!known) {
        const device = this.device || newId();
        await meta.put(device, "device");
        known = { device, logbook: null, cursor: 0, end: null, safe: 0, lastExchange: null };
      }
      const [base, offers, outbox, refused] = await Promise.all([
        all.objectStore("base").getAll(),
        all.objectStore("offers").getAll(),
        all.objectStore("outbox").getAll(),
        all.objectStore("refused").getAll(),
      ]);
      return { known, isNew, base, offers, outbox, refused };
    });
    this.device = found.known.device;
    batch(() => {
      for (const row of found.base) this.kind(row.kind).at(row.id).base = row;
      for (const row of found.offers) this.kind(row.kind).at(row.id).offer = row;
      this.unsent = new Set(found.outbox.map((entry) => entry.id));
      for (const { change } of found.outbox) this.kind(change.kind).at(change.record).outbox.push(change);
      for (const { changes } of this.waiting) {
        for (const change of changes) {
          const { outbox } = this.kind(change.kind).at(change.record);
          if (!outbox.includes(change)) outbox.push(change);
        }
      }
      for (const kind of this.kinds.values()) kind.renewAll();
      if (found.isNew && storageKept.wasThere()) this.ask({ id: "evicted", kind: "evicted", facts: {} });
      for (const { id, change, problem } of found.refused) this.askRefused(id, change, problem);
      this.say({
        lastExchange: found.known.lastExchange,
        exchange: found.known.lastExchange ? "ok" : "never",
      });
    });
    this.isLoaded = true;
    storageKept.mark();
  }

  askRefused(id: string, change: Change, problem: string): void {
    this.ask({
      id: `refused:${id}`,
      kind: "refused",
      facts: { kind: change.kind, record: change.record, made: change.made, set: change.set, problem },
    });
  }

  /** Records of a kind that are not removed, by id, newest last. Reactive. */
  rows(kind: string): Row[] {
    const held = this.kind(kind);
    held.version.value;
    return held.rows;
  }

  /** One record, removed or not. Reactive. */
  row(kind: string, id: string): Row | undefined {
    const held = this.kind(kind);
    held.version.value;
    return held.held.get(id)?.shown;
  }

  /** Every kind that holds a record; for export. Not reactive. */
  kindsHeld(): string[] {
    return [...this.kinds].filter(([, kind]) => kind.held.size > 0).map(([name]) => name);
  }

  /** Shown before this returns; `saved` holds once the store has it on disk. */
  write(edits: readonly Edit[]): { changes: string[]; saved: Promise<void> } {
    const changes: Change[] = [];
    batch(() => {
      for (const edit of edits) {
        const id = newId();
        const set = typeof edit.set === "function" ? edit.set(id) : edit.set;
        if (Object.keys(set).length === 0) continue;
        const kind = this.kind(edit.kind);
        const held = kind.at(edit.record);
        const change: Change = {
          id,
          v: 1,
          kind: edit.kind,
          record: edit.record,
          device: this.device,
          made: nowText(),
          set,
          saw: seen(held.shown, Object.keys(set)),
          back: edit.back ?? false,
        };
        held.outbox.push(change);
        kind.renew(edit.record);
        changes.push(change);
      }
    });
    const saved = changes.length === 0 ? Promise.resolve() : this.keep(changes);
    return { changes: changes.map((change) => change.id), saved };
  }

  /** Puts earlier values back; it wins only over what stands there now. */
  takeBack(
    kind: string,
    record: string,
    earlier: Record<string, Value>,
  ): { changes: string[]; saved: Promise<void> } {
    return this.write([{ kind, record, set: earlier, back: true }]);
  }

  private keep(changes: Change[]): Promise<void> {
    const saved = new Promise<void>((kept) => this.waiting.push({ changes, kept }));
    if (this.status.peek().keeping === "saved") this.say({ keeping: "saving" });
    this.say({});
    void this.keepWaiting();
    return saved;
  }

  private async keepWaiting(): Promise<void> {
    if (this.isKeeping || this.waiting.length === 0) return;
    this.isKeeping = true;
    const taken = this.waiting.slice();
    try {
      if (!this.isLoaded) await this.load();
      await this.store.add(taken.flatMap(({ changes }) => changes));
    } catch {
      this.isKeeping = false;
      this.say({ keeping: "not_saved" });
      this.tryLater();
      return;
    }
    this.isKeeping = false;
    this.failures = 0;
    this.waiting = this.waiting.filter((one) => !taken.includes(one));
    for (const { changes, kept } of taken) {
      for (const change of changes) this.unsent.add(change.id);
      kept();
    }
    this.say({ keeping: this.waiting.length > 0 ? "saving" : "saved" });
    this.tell(taken.flatMap(({ changes }) => changes.map((c): [string, string] => [c.kind, c.record])));
    void this.keepWaiting();
  }

  private tryLater(): void {
    if (this.retry !== null) return;
    const wait = RETRY_MS[Math.min(this.failures++, RETRY_MS.length - 1)] ?? 5000;
    this.retry = setTimeout(() => this.tryNow(), wait);
  }

  /** After a failure: at once, when the page is seen again. */
  tryNow(): void {
    if (this.retry !== null) clearTimeout(this.retry);
    this.retry = null;
    if (!this.isLoaded && this.waiting.length === 0) void this.open();
    else void this.keepWaiting();
  }

  /** Calls `listener` with the records that this tab has changed in the store. */
  onKept(listener: (touched: [string, string][]) => void): () => void {
    this.listeners.add(listener);
    return () => this.listeners.delete(listener);
  }

  private tell(touched: [string, string][]): void {
    for (const listener of this.listeners) listener(touched);
  }

  /** Reads these records anew from the store: another tab or an exchange changed them. */
  async reread(touched: readonly (readonly [string, string])[]): Promise<void> {
    if (!this.isLoaded) return;
    const found = await this.store.read(async (all) => {
      const rows = await Promise.all(
        touched.map(async ([kind, id]) => ({
          kind,
          id,
          base: await all.objectStore("base").get([kind, id]),
          offer: await all.objectStore("offers").get([kind, id]),
        })),
      );
      return { rows, outbox: await all.objectStore("outbox").getAll() };
    });
    batch(() => {
      this.unsent = new Set(found.outbox.map((entry) => entry.id));
      const inStore = new Map<string, Change[]>();
      for (const { change } of found.outbox) {
        const key = `${change.kind}/${change.record}`;
        const list = inStore.get(key) ?? [];
        list.push(change);
        inStore.set(key, list);
      }
      const notYetKept = this.waiting.flatMap(({ changes }) => changes);
      for (const { kind, id, base, offer } of found.rows) {
        const held = this.kind(kind).at(id);
        held.base = base;
        held.offer = offer;
        held.outbox = inStore.get(`${kind}/${id}`) ?? [];
        for (const change of notYetKept) {
          const isHere = change.kind === kind && change.record === id;
          if (isHere && !this.unsent.has(change.id)) held.outbox.push(change);
        }
        this.kind(kind).renew(id);
      }
      this.say({});
    });
  }

  /** Changes part of the status; the count of unsent changes follows by itself. */
  say(part: Partial<Status>): void {
    const notKept = this.waiting.reduce((sum, { changes }) => sum + changes.length, 0);
    this.status.value = { ...this.status.peek(), ...part, unsent: this.unsent.size + notKept };
  }

  ask(question: Asked): void {
    this.questions.value = [...this.questions.peek().filter(({ id }) => id !== question.id), question];
  }

  /** Puts a question away. */
  answered(id: string): void {
    this.questions.value = this.questions.peek().filter((one) => one.id !== id);
    if (id.startsWith("refused:")) {
      const key = id.slice("refused:".length);
      this.store.inOne(async (all) => all.objectStore("refused").delete(key)).catch(() => undefined);
    }
  }

  /** What this phone still holds of a record's past, in the order made; the server holds all of it. */
  async history(kind: string, record: string): Promise<Change[]> {
    const held = await this.store.read(async (all) => [
      ...(await all.objectStore("kept").getAll()),
      ...(await all.objectStore("outbox").getAll()),
    ]);
    return held.map(({ change }) => change).filter((c) => c.kind === kind && c.record === record);
  }
}

/** The one logbook of this page. */
export const logbook = new Logbook();

export const status: ReadonlySignal<Status> = logbook.status;
