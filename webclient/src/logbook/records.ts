/** All records that this phone holds, kind by kind, as the screens read them. */
import { KindOfRecord } from "./kind";
import type { Change, Row } from "./model";

interface Found {
  kind: string;
  id: string;
  base: Row | undefined;
  offer: Row | undefined;
}

export class Records {
  private readonly kinds = new Map<string, KindOfRecord>();

  protected kind(name: string): KindOfRecord {
    let kind = this.kinds.get(name);
    if (!kind) {
      kind = new KindOfRecord();
      this.kinds.set(name, kind);
    }
    return kind;
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

  /** Records of a kind by id, removed ones too: for what lists or takes along everything. Reactive. */
  all(kind: string): Row[] {
    const held = this.kind(kind);
    held.version.value;
    const rows = [...held.held.values()]
      .map(({ shown }) => shown)
      .filter((row): row is Row => row !== undefined);
    return rows.sort((a, b) => (a.id < b.id ? -1 : a.id > b.id ? 1 : 0));
  }

  /** Every kind that holds a record; for export. Not reactive. */
  kindsHeld(): string[] {
    return [...this.kinds].filter(([, kind]) => kind.held.size > 0).map(([name]) => name);
  }

  /** In place of all that was held. */
  protected fill(base: readonly Row[], offers: readonly Row[], outbox: readonly Change[]): void {
    for (const kind of this.kinds.values()) kind.clear();
    for (const row of base) this.kind(row.kind).at(row.id).base = row;
    for (const row of offers) this.kind(row.kind).at(row.id).offer = row;
    for (const change of outbox) this.kind(change.kind).at(change.record).outbox.push(change);
    for (const kind of this.kinds.values()) kind.renewAll();
  }

  /** Beside what is held already. */
  protected lay(base: readonly Row[]): void {
    const kinds = new Set<KindOfRecord>();
    for (const row of base) {
      const kind = this.kind(row.kind);
      kind.at(row.id).base = row;
      kinds.add(kind);
    }
    for (const kind of kinds) kind.renewAll();
  }

  /** In place of what was held of these records. */
  protected replace(rows: readonly Found[], outbox: readonly Change[]): void {
    const ids = new Map<KindOfRecord, string[]>();
    for (const { kind: name, id, base, offer } of rows) {
      const kind = this.kind(name);
      Object.assign(kind.at(id), { base, offer, outbox: [] });
      ids.set(kind, [...(ids.get(kind) ?? []), id]);
    }
    const touched = new Set(rows.map(({ kind, id }) => `${kind}/${id}`));
    for (const change of outbox) {
      if (!touched.has(`${change.kind}/${change.record}`)) continue;
      this.kind(change.kind).at(change.record).outbox.push(change);
    }
    for (const [kind, some] of ids) kind.renew(some);
  }
}
