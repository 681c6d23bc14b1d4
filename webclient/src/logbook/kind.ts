/** All records of one kind, as they are shown, in the order of their ids. */

import { signal } from "@preact/signals";
import { isRemoved, shown, upgrade, withOffer } from "./merge";
import type { Change, Row } from "./model";

export interface Held {
  base: Row | undefined;
  /** set aside after a restore, until the server has answered it */
  offer: Row | undefined;
  outbox: Change[];
  shown: Row | undefined;
}

/** So many at once are put in by sorting anew rather than one by one. */
const MANY = 16;

const byId = (a: Row, b: Row) => (a.id < b.id ? -1 : a.id > b.id ? 1 : 0);

export class KindOfRecord {
  readonly held = new Map<string, Held>();
  readonly version = signal(0);
  /** those not removed, by id; a new list after every change */
  rows: Row[] = [];

  at(id: string): Held {
    let held = this.held.get(id);
    if (!held) {
      held = { base: undefined, offer: undefined, outbox: [], shown: undefined };
      this.held.set(id, held);
    }
    return held;
  }

  clear(): void {
    this.held.clear();
    this.rows = [];
  }

  /** Works out anew what is shown of these records. */
  renew(ids: readonly string[]): void {
    for (const id of ids) this.work(this.at(id));
    if (ids.length > MANY) this.sort();
    else for (const id of ids) this.place(id);
    this.version.value = this.version.peek() + 1;
  }

  renewAll(): void {
    for (const held of this.held.values()) this.work(held);
    this.sort();
    this.version.value = this.version.peek() + 1;
  }

  private work(held: Held): void {
    const row = shown(withOffer(held.base, held.offer), held.outbox);
    held.shown = row && upgrade(row);
  }

  private sort(): void {
    const rows: Row[] = [];
    for (const { shown: row } of this.held.values()) if (row && !isRemoved(row)) rows.push(row);
    this.rows = rows.sort(byId);
  }

  private place(id: string): void {
    const row = this.at(id).shown;
    const rows = this.rows.slice();
    const place = this.firstNotBefore(id);
    const stands = rows[place]?.id === id;
    if (row && !isRemoved(row)) rows.splice(place, stands ? 1 : 0, row);
    else if (stands) rows.splice(place, 1);
    this.rows = rows;
  }

  private firstNotBefore(id: string): number {
    let low = 0;
    let high = this.rows.length;
    while (low < high) {
      const middle = (low + high) >> 1;
      if ((this.rows[middle]?.id ?? "") < id) low = middle + 1;
      else high = middle;
    }
    return low;
  }
}
