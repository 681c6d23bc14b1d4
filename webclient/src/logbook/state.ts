/** What is written on this phone, as the screens see it: shown at once, kept a moment later. */

import { batch, type ReadonlySignal, type Signal, signal } from "@preact/signals";
import { now, nowText } from "../clock";
import type { Asked, Status } from "./asked";
import { uuid7 } from "./ids";
import { Keeping } from "./keeping";
import type { KindOfRecord } from "./kind";
import { seen } from "./merge";
import type { Change, Edit, Value } from "./model";
import { begun, type Found, readAgain, readIn, readPast } from "./read_in";
import { Records } from "./records";
import { SecondCopy, secondCopy } from "./second_copy";
import { storageKept } from "./storage_marker";
import { type Meta, Store } from "./store";

/** A new UUIDv7: a record's or a change's id. */
export function newId(): string {
  return uuid7(now(), crypto.getRandomValues(new Uint8Array(10)));
}

/** `saved` holds once the store has it on disk. */
type Written = { changes: string[]; saved: Promise<void> };

export class Logbook extends Records {
  readonly status: Signal<Status> = signal({
    unsent: 0,
    keeping: "saved",
    exchange: "never",
    lastExchange: null,
    clockOff_ms: null,
    slips: null,
  });
  readonly questions: Signal<Asked[]> = signal([]);
  device = "";
  /** false until a server has told which logbook this phone writes in */
  hasLogbook = false;

  /** ids of the changes that the store holds and the server has not acknowledged */
  private unsent = new Set<string>();
  private readonly keeping = new Keeping({
    store: (changes) => this.putDown(changes),
    stored: (changes) => this.wereStored(changes),
    kept: (more) => this.say({ keeping: more ? "saving" : "saved" }),
    notKept: () => this.say({ keeping: "not_saved" }),
    again: () => this.tryNow(),
  });
  private isLoaded = false;
  private reading: Promise<void> = Promise.resolve();
  private loading: Promise<void> | null = null;
  private readonly listeners = new Set<(touched: [string, string][]) => void>();

  /** Holds once all is read, or waiting for it was given up; what counts pieces waits for it. */
  whole: Promise<unknown> = Promise.resolve();

  readonly store: Store;

  constructor(
    store?: Store,
    private readonly second = new SecondCopy(null),
  ) {
    super();
    this.store = store ?? new Store("easelside", { blocked: (isBlocked) => this.sayBlocked(isBlocked) });
  }

  /** An older version in another tab holds the store: the maker is told which to close. */
  private sayBlocked(isBlocked: boolean): void {
    if (isBlocked) this.ask({ id: "blocked", kind: "blocked", facts: {} });
    else this.answered("blocked");
  }

  /** Reads everything in; in memory where the store cannot be opened. `onMost`: all but pieces and tallies is there. */
  async open(onMost?: () => void): Promise<void> {
    try {
      await this.load(onMost);
    } catch {
      if (!this.device) this.device = newId();
      this.say({ keeping: "not_saved" });
      this.keeping.tryLater();
    }
  }

  private load(onMost?: () => void): Promise<void> {
    this.loading ??= this.readIn(onMost).finally(() => {
      this.loading = null;
    });
    return this.loading;
  }

  private async readIn(onMost?: () => void): Promise<void> {
    let isTakenUp = false;
    const { found, counted } = await readIn(this.store, (most) => {
      if (!onMost || !most.known?.logbook) return;
      isTakenUp = true;
      this.takeUp(most, most.known);
      onMost();
    });
    if (isTakenUp) this.lay(counted);
    else {
      const known = found.known ?? (await this.begin(found));
      this.takeUp({ ...found, base: found.base.concat(counted) }, known);
    }
    this.isLoaded = true;
    storageKept.mark();
  }

  /** The store is empty: the first time on this phone, or it was lost. */
  private async begin(found: Found): Promise<Meta | null> {
    const { device, outbox } = await this.second.bringBack(this.store);
    found.outbox.push(...outbox);
    const kind = device ? "brought_back" : "evicted";
    if (device || storageKept.wasThere()) this.ask({ id: kind, kind, facts: {} });
    return begun(this.store, this.device || device || newId());
  }

  /** Sees to it that all that waits to be sent is kept a second time, where the browser can. */
  async keepTwice(): Promise<void> {
    if (this.isLoaded) await this.second.align(this.store, this.device).catch(() => undefined);
  }

  private takeUp(found: Found, known: Meta | null): void {
    this.device = known?.device ?? this.device;
    this.hasLogbook = known?.logbook != null;
    const lastExchange = known?.lastExchange ?? null;
    batch(() => {
      this.unsent = new Set(found.outbox.map((entry) => entry.id));
      const outbox = [...found.outbox.map(({ change }) => change), ...this.notYetKept()];
      this.fill(found.base, found.offers, outbox);
      for (const { id, change, problem } of found.refused) this.askRefused(id, change, problem);
      const keeping = this.keeping.changes.length > 0 ? "saving" : "saved";
      this.say({ lastExchange, exchange: lastExchange ? "ok" : "never", keeping });
    });
  }

  /** Written, but not yet known to be in the store. */
  private notYetKept(): Change[] {
    return this.keeping.changes.filter((change) => !this.unsent.has(change.id));
  }

  askRefused(id: string, change: Change, problem: string): void {
    this.ask({
      id: `refused:${id}`,
      kind: "refused",
      facts: { kind: change.kind, record: change.record, made: change.made, set: change.set, problem },
    });
  }

  /** Shown before this returns. */
  write(edits: readonly Edit[]): Written {
    const changes: Change[] = [];
    this.device ||= newId(); // the store is not open yet: the changes wait under an id of their own
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
        kind.renew([edit.record]);
        changes.push(change);
      }
    });
    const saved = changes.length === 0 ? Promise.resolve() : this.keep(changes);
    return { changes: changes.map((change) => change.id), saved };
  }

  /**
   * Takes in changes that were made elsewhere, word for word: a file of records, into an empty workshop. They are shown
   * at once and sent like this phone's own; their ids make a repeat harmless.
   */
  takeIn(changes: readonly Change[]): Promise<void> {
    if (changes.length === 0) return Promise.resolve();
    batch(() => {
      const touched = new Map<KindOfRecord, Set<string>>();
      for (const change of changes) {
        const kind = this.kind(change.kind);
        kind.at(change.record).outbox.push(change);
        touched.set(kind, (touched.get(kind) ?? new Set()).add(change.record));
      }
      for (const [kind, ids] of touched) kind.renew([...ids]);
    });
    return this.keep([...changes]);
  }

  /** Puts earlier values back; it wins only over what stands there now. */
  takeBack(kind: string, record: string, earlier: Record<string, Value>): Written {
    return this.write([{ kind, record, set: earlier, back: true }]);
  }

  private keep(changes: Change[]): Promise<void> {
    const saved = this.keeping.add(changes);
    this.say(this.status.peek().keeping === "saved" ? { keeping: "saving" } : {});
    return saved;
  }

  private async putDown(changes: Change[]): Promise<void> {
    if (!this.isLoaded) await this.load();
    await this.store.add(changes);
    await this.reading; // a reading begun before these were in the store still finds them among those that wait
  }

  private wereStored(changes: Change[]): Promise<void> {
    for (const { id } of changes) this.unsent.add(id);
    const touched = changes.map((change): [string, string] => [change.kind, change.record]);
    for (const listener of this.listeners) listener(touched);
    return this.second.add(changes);
  }

  /** After a failure: at once, when the page is seen again. */
  tryNow(): void {
    this.keeping.triedNow();
    if (!this.isLoaded && this.keeping.changes.length === 0) void this.open();
    else void this.keeping.keep();
  }

  /** Calls `listener` with the records that this tab has changed in the store. */
  onKept(listener: (touched: [string, string][]) => void): () => void {
    this.listeners.add(listener);
    return () => this.listeners.delete(listener);
  }

  /** Reads these records anew from the store: another tab or an exchange changed them. */
  reread(touched: readonly (readonly [string, string])[]): Promise<void> {
    return this.inTurn(async () => {
      const found = await readAgain(this.store, touched);
      const before = this.unsent;
      batch(() => {
        this.unsent = new Set(found.outbox.map((entry) => entry.id));
        this.replace(found.rows, [...found.outbox.map(({ change }) => change), ...this.notYetKept()]);
        this.say({});
      });
      void this.second.forget([...before].filter((id) => !this.unsent.has(id)));
    });
  }

  /** Reads everything anew: the logbook was restored, or a snapshot came. */
  rereadAll(): Promise<void> {
    return this.inTurn(() => this.load());
  }

  /** One reading at a time, so that an older one never lays itself over a newer one. */
  private inTurn(work: () => Promise<void>): Promise<void> {
    if (!this.isLoaded) return Promise.resolve();
    const done = this.reading.then(work);
    this.reading = done.catch(() => undefined);
    return done;
  }

  /** Changes part of the status; the count of unsent changes follows by itself. */
  say(part: Partial<Status>): void {
    const unsent = this.unsent.size + this.keeping.changes.length;
    this.status.value = { ...this.status.peek(), ...part, unsent };
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
    const held = await readPast(this.store);
    return held.map(({ change }) => change).filter((c) => c.kind === kind && c.record === record);
  }
}

/** The one logbook of this page. */
export const logbook = new Logbook(undefined, secondCopy());

export const status: ReadonlySignal<Status> = logbook.status;
