/** What is written and not yet on disk? Kept in the order written, and tried again where the store takes nothing. */

import type { Change } from "./model";

interface Waiting {
  changes: Change[];
  kept: () => void;
}

const RETRY_MS = [500, 1000, 2000, 5000];

interface Hears {
  /** puts them into the store, or throws */
  store(changes: Change[]): Promise<void>;
  /** they are there, and wait here no longer; until it holds they do not count as kept */
  stored(changes: Change[]): Promise<void>;
  /** `more` waits already */
  kept(more: boolean): void;
  notKept(): void;
  /** time to try once more */
  again(): void;
}

export class Keeping {
  private waiting: Waiting[] = [];
  private isBusy = false;
  private failures = 0;
  private retry: ReturnType<typeof setTimeout> | null = null;

  constructor(private readonly hears: Hears) {}

  get changes(): Change[] {
    return this.waiting.flatMap(({ changes }) => changes);
  }

  /** Holds once they are kept. */
  add(changes: Change[]): Promise<void> {
    const saved = new Promise<void>((kept) => this.waiting.push({ changes, kept }));
    void this.keep();
    return saved;
  }

  async keep(): Promise<void> {
    if (this.isBusy || this.waiting.length === 0) return;
    this.isBusy = true;
    const taken = this.waiting.slice();
    const changes = this.changes;
    try {
      await this.hears.store(changes);
    } catch {
      this.isBusy = false;
      this.hears.notKept();
      this.tryLater();
      return;
    }
    this.failures = 0;
    this.waiting = this.waiting.slice(taken.length);
    await this.hears.stored(changes);
    this.isBusy = false;
    this.hears.kept(this.waiting.length > 0);
    for (const { kept } of taken) kept();
    void this.keep();
  }

  tryLater(): void {
    if (this.retry !== null) return;
    const wait = RETRY_MS[Math.min(this.failures++, RETRY_MS.length - 1)] ?? 5000;
    this.retry = setTimeout(() => this.hears.again(), wait);
  }

  /** Whoever tries now needs no timer any more. */
  triedNow(): void {
    if (this.retry !== null) clearTimeout(this.retry);
    this.retry = null;
  }
}
