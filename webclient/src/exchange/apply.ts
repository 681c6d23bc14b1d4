/** What changes on this phone when the server has answered? One transaction, all of it or nothing. */

import { acknowledged, fold, withWinners } from "../logbook/merge";
import type { Change, Row, Winner } from "../logbook/model";
import { type Meta, readMeta, type Store, type Work, writeMeta } from "../logbook/store";
import type { Answer, Offer, Request } from "./wire";

export interface Applied {
  /** nothing was taken: meanwhile the phone had turned to another logbook */
  isStale: boolean;
  /** every record may be shown otherwise (a restored logbook) */
  isAll: boolean;
  touched: [string, string][];
  refused: { id: string; change: Change; problem: string }[];
  /** this phone's changes that another device's beat, with the winners */
  lost: { change: Change; lost: Record<string, Winner | null> }[];
}

const NOTHING: Applied = { isStale: false, isAll: false, touched: [], refused: [], lost: [] };

/** The base rows that one answer touches, each read once and written once. */
class Rows {
  private readonly held = new Map<string, Row | undefined>();

  constructor(private readonly all: Work) {}

  private key(kind: string, id: string): string {
    return JSON.stringify([kind, id]);
  }

  async change(kind: string, id: string, how: (row: Row | undefined) => Row): Promise<void> {
    const key = this.key(kind, id);
    const row = this.held.has(key) ? this.held.get(key) : await this.all.objectStore("base").get([kind, id]);
    this.held.set(key, how(row));
  }

  /** Writes them, less those in which nothing stands; tells which were touched. */
  async put(): Promise<[string, string][]> {
    const touched: [string, string][] = [];
    const writing: Promise<unknown>[] = [];
    for (const row of this.held.values()) {
      if (!row) continue;
      touched.push([row.kind, row.id]);
      if (Object.keys(row.fields).length > 0) writing.push(this.all.objectStore("base").put(row));
    }
    await Promise.all(writing);
    return touched;
  }
}

/** The base becomes offers, the cursor goes to 0, and all that was acknowledged will be sent once more. */
async function turnToRestored(all: Work, known: Meta, answer: Answer): Promise<void> {
  const base = all.objectStore("base");
  const offers = all.objectStore("offers");
  for (const row of await base.getAll()) {
    const earlier = await offers.get([row.kind, row.id]);
    await offers.put(earlier ? laterOf(row, earlier) : row);
  }
  await base.clear();
  const kept = all.objectStore("kept");
  for (const one of await kept.getAll()) await kept.put({ ...one, again: 1 });
  await writeMeta(all.objectStore("meta"), {
    ...known,
    logbook: answer.logbook,
    end: answer.end,
    cursor: 0,
    safe: 0,
  });
}

/** A second restore before the first was through: what stands in either, the later `when` of both. */
function laterOf(a: Row, b: Row): Row {
  const fields = { ...b.fields };
  for (const [name, field] of Object.entries(a.fields)) {
    const other = fields[name];
    if (!other || field.when >= other.when) fields[name] = field;
  }
  return { ...a, fields };
}

async function takeAccepted(all: Work, rows: Rows, answer: Answer): Promise<Applied["lost"]> {
  const outbox = all.objectStore("outbox");
  const kept = all.objectStore("kept");
  const lost: Applied["lost"] = [];
  for (const one of answer.accepted) {
    const entry = (await outbox.index("id").get(one.id)) ?? (await kept.index("id").get(one.id));
    if (!entry) continue; // acknowledged before; the pull brings whatever it won
    const { n, id, change } = entry;
    await outbox.delete(n);
    await kept.put({ n, id, change, seq: one.seq, when: one.when, won: one.won, again: 0 });
    await rows.change(change.kind, change.record, (row) => acknowledged(row, change, one));
    const beaten = Object.entries(one.lost).filter(
      ([name, winner]) => !isSame(winner?.value, change.set[name]),
    );
    if (beaten.length > 0 && !("seq" in entry)) lost.push({ change, lost: Object.fromEntries(beaten) });
  }
  return lost;
}

function isSame(a: unknown, b: unknown): boolean {
  return JSON.stringify(a) === JSON.stringify(b);
}

async function takeRefused(all: Work, answer: Answer): Promise<Applied["refused"]> {
  const refused: Applied["refused"] = [];
  for (const { id, problem, offer } of answer.refused) {
    if (offer) continue;
    for (const name of ["outbox", "kept"] as const) {
      const entry = await all.objectStore(name).index("id").get(id);
      if (!entry) continue;
      await all.objectStore(name).delete(entry.n);
      await all.objectStore("refused").put({ id, change: entry.change, problem });
      refused.push({ id, change: entry.change, problem });
    }
  }
  return refused;
}

/** What was offered is set aside no longer: whoever stands there now is in the base. */
async function takeOffered(
  all: Work,
  rows: Rows,
  request: Request,
  answer: Answer,
): Promise<[string, string][]> {
  for (const { kind, record, field, change, winner } of answer.offered) {
    await noLongerAside(all, kind, record, field, change);
    const bare: Row = { kind, id: record, fields: {} };
    await rows.change(kind, record, (base) => withWinners(base ?? bare, { [field]: winner }));
  }
  const refused = new Set(answer.refused.filter(({ offer }) => offer).map(({ id }) => id));
  return [
    ...(await withoutOffers(
      all,
      request.offers.filter(({ change }) => refused.has(change)),
    )),
    ...answer.offered.map(({ kind, record }): [string, string] => [kind, record]),
  ];
}

/** An offer that the server cannot keep is not offered again. */
async function withoutOffers(all: Work, some: readonly Offer[]): Promise<[string, string][]> {
  for (const { kind, record, field, change } of some) await noLongerAside(all, kind, record, field, change);
  return some.map(({ kind, record }) => [kind, record]);
}

async function noLongerAside(all: Work, kind: string, record: string, field: string, change: string) {
  const offers = all.objectStore("offers");
  const aside = await offers.get([kind, record]);
  if (aside?.fields[field]?.change !== change) return;
  const { [field]: _answered, ...fields } = aside.fields;
  if (Object.keys(fields).length > 0) await offers.put({ ...aside, fields });
  else await offers.delete([kind, record]);
}

/** Forgets acknowledged changes that every kept backup holds. */
async function prune(all: Work, safe: number): Promise<void> {
  const kept = all.objectStore("kept");
  for (const n of await kept.index("seq").getAllKeys(IDBKeyRange.upperBound(safe))) {
    if ((await kept.get(n))?.again === 0) await kept.delete(n);
  }
}

export function apply(store: Store, request: Request, answer: Answer, at: string): Promise<Applied> {
  return store.inOne(async (all) => {
    const meta = all.objectStore("meta");
    const known = await readMeta(meta);
    if (!known || known.logbook !== request.logbook) return { ...NOTHING, isStale: true };
    if (answer.restored) {
      await turnToRestored(all, known, answer);
      return { ...NOTHING, isAll: true };
    }
    const rows = new Rows(all);
    for (const arrival of answer.changes) {
      await rows.change(arrival.kind, arrival.record, (row) => fold(row, arrival));
    }
    const lost = await takeAccepted(all, rows, answer);
    const refused = await takeRefused(all, answer);
    const offered = await takeOffered(all, rows, request, answer);
    const changed = await rows.put();
    if (answer.safe > known.safe) await prune(all, answer.safe);
    await writeMeta(meta, {
      ...known,
      logbook: answer.logbook,
      end: answer.end ?? known.end,
      cursor: Math.max(known.cursor, answer.cursor),
      safe: answer.safe,
      lastExchange: at,
    });
    const outOf = refused.map(({ change }): [string, string] => [change.kind, change.record]);
    return { ...NOTHING, touched: [...changed, ...offered, ...outOf], refused, lost };
  });
}
