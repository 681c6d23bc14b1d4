/** A server for the client's tests: the rules of merging in their plainest form, in memory. */

import type { Answer, Offered, Offer, Request, SentAgain } from "src/exchange/wire";
import type { Acknowledgement, Arrival, Change, Field, Winner } from "src/logbook/model";

type StandingField = Field & { seq: number };

const later = (when: string): string => new Date(Date.parse(when) + 1).toISOString();

const isLater = (when: string, id: string, standing: Field): boolean =>
  when > standing.when || (when === standing.when && id > standing.change);

export class FakeServer {
  rows: (Arrival & { held?: string })[] = [];
  fields = new Map<string, Map<string, StandingField>>();
  logbook = "logbook-1";
  safe = 0;
  now = "2026-11-25T12:00:00.000Z";
  /** the most changes in one answer */
  page = 500;
  refuses = (_change: Change): string | null => null;

  /** Goes back to the state after `seq` rows, as another logbook. */
  restore(seq: number, logbook: string): void {
    const kept = this.rows.slice(0, seq);
    this.rows = [];
    this.fields = new Map();
    this.logbook = logbook;
    for (const row of kept) this.enter(row);
  }

  end(): { seq: number; hash: string } {
    return { seq: this.rows.length, hash: this.rows.map((row) => row.id).join("") };
  }

  record(kind: string, id: string): Record<string, unknown> {
    const fields = this.fields.get(`${kind}/${id}`) ?? new Map<string, StandingField>();
    return Object.fromEntries([...fields].map(([name, field]) => [name, field.value]));
  }

  answer(request: Request): Answer {
    const nothing = { accepted: [], offered: [], refused: [], changes: [], cursor: 0, more: false };
    const head = { logbook: this.logbook, now: this.now, safe: this.safe };
    if (request.logbook === null) return { ...head, ...nothing, restored: false, end: this.end() };
    if (request.logbook !== this.logbook) return { ...head, ...nothing, restored: true, end: this.end() };
    const offered = request.offers.map((offer) => this.hold(offer));
    const accepted: Acknowledgement[] = [];
    const refused: Answer["refused"] = [];
    for (const change of request.changes) {
      const problem = this.refuses(change);
      if (problem) refused.push({ id: change.id, problem, offer: false });
      else accepted.push(this.take(change));
    }
    const changes = this.rows.slice(request.after, request.after + this.page);
    const cursor = changes.at(-1)?.seq ?? request.after;
    const more = cursor < this.rows.length;
    return { ...head, restored: false, accepted, offered, refused, changes, cursor, more, end: this.end() };
  }

  private at(kind: string, record: string): Map<string, StandingField> {
    const key = `${kind}/${record}`;
    const fields = this.fields.get(key) ?? new Map<string, StandingField>();
    this.fields.set(key, fields);
    return fields;
  }

  private enter(row: Arrival & { held?: string }): Arrival {
    const kept = { ...row, seq: this.rows.length + 1 };
    this.rows.push(kept);
    const fields = this.at(kept.kind, kept.record);
    for (const name of kept.won) {
      fields.set(name, {
        value: kept.set[name] ?? null,
        change: kept.id,
        seq: kept.seq,
        when: kept.when,
        back: kept.back,
        saw: kept.saw[name] ?? null,
      });
    }
    return kept;
  }

  private take(change: Change | SentAgain): Acknowledgement {
    const stored = this.rows.find((row) => row.id === change.id && row.held === undefined);
    const row = stored ?? this.judge(change);
    const fields = this.at(row.kind, row.record);
    const lost: Record<string, Winner | null> = {};
    for (const name of Object.keys(row.set)) if (!row.won.includes(name)) lost[name] = fields.get(name) ?? null;
    return { id: row.id, seq: row.seq, when: row.when, won: row.won, lost };
  }

  private judge(change: Change | SentAgain): Arrival {
    const given = "given" in change ? change.given : null;
    const held = this.rows.filter((row) => row.id === change.id).map((row) => row.held);
    let when = given?.when ?? (change.made < this.now ? change.made : this.now);
    const fields = this.at(change.kind, change.record);
    const won: string[] = [];
    let after = "";
    for (const name of Object.keys(change.set)) {
      const standing = fields.get(name);
      const saw = change.saw[name] ?? null;
      const isSeen = standing?.change === saw || (!change.back && standing?.back && standing.saw !== null && standing.saw === saw);
      const isSettled = held.includes(name) || given?.lost.includes(name);
      if (isSettled && !(standing && isSeen)) continue;
      if (!standing) won.push(name);
      else if (isSeen) {
        won.push(name);
        if (later(standing.when) > after) after = later(standing.when);
      } else if (standing.saw === change.id || (change.back && standing.saw === saw && saw !== null)) continue;
      else if (change.back && saw !== null && this.knows(saw, name)) continue;
      else if (isLater(when, change.id, standing)) won.push(name);
    }
    if (after && (change.back || after > when)) when = after;
    const { kind, record, set, saw, back, id } = change;
    return this.enter({ id, kind, record, set, saw, back, seq: 0, when, won });
  }

  private knows(id: string, name: string): boolean {
    return this.rows.some((row) => row.id === id && name in row.set);
  }

  private hold(offer: Offer): Offered {
    const { kind, record, field, change, value, saw, back } = offer;
    const fields = this.at(kind, record);
    if (!this.knows(change, field)) {
      const standing = fields.get(field);
      const isSeen = standing?.change === saw;
      const when = isSeen && standing && later(standing.when) > offer.when ? later(standing.when) : offer.when;
      const wins = !standing || isSeen || (standing.saw !== change && isLater(offer.when, change, standing));
      const row = { id: change, kind, record, set: { [field]: value }, saw: { [field]: saw }, back, when };
      this.enter({ ...row, seq: 0, won: wins ? [field] : [], held: field });
    }
    return { kind, record, field, change, winner: fields.get(field) ?? null };
  }
}
