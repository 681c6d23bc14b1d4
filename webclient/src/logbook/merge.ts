/** What stands in a record, when the server says one thing and this phone has not sent all it knows? */

import type { Acknowledgement, Arrival, Change, Field, Row, Winner } from "./model";

function emptyRow(kind: string, id: string): Row {
  return { kind, id, fields: {} };
}

/** A base field gives way only to a larger seq, so a repeat or an old page of changes does nothing. */
function isNewer(seq: number, field: Field | undefined): boolean {
  return field === undefined || field.seq === null || seq > field.seq;
}

function asField(winner: Winner): Field {
  return {
    value: winner.value,
    change: winner.change,
    seq: winner.seq,
    when: winner.when,
    back: winner.back ?? false,
    saw: winner.saw ?? null,
  };
}

/** Base after one row of the logbook. */
export function fold(base: Row | undefined, arrival: Arrival): Row {
  const row = base ?? emptyRow(arrival.kind, arrival.record);
  const fields = { ...row.fields };
  for (const name of arrival.won) {
    const value = arrival.set[name];
    if (value === undefined || !isNewer(arrival.seq, fields[name])) continue;
    fields[name] = {
      value,
      change: arrival.id,
      seq: arrival.seq,
      when: arrival.when,
      back: arrival.back,
      saw: arrival.saw[name] ?? null,
    };
  }
  return { ...row, fields };
}

/** Base after the server's answer to one of this phone's own changes: what it won, and who beat the rest. */
export function acknowledged(base: Row | undefined, change: Change, answer: Acknowledgement): Row {
  return withWinners(
    fold(base, { ...change, seq: answer.seq, when: answer.when, won: answer.won }),
    answer.lost,
  );
}

/** A record after an answer named who stands in some of its fields. */
export function withWinners(row: Row, winners: Record<string, Winner | null>): Row {
  const fields = { ...row.fields };
  for (const [name, winner] of Object.entries(winners)) {
    if (winner && isNewer(winner.seq, fields[name])) fields[name] = asField(winner);
  }
  return { ...row, fields };
}

/** Base and what was set aside as an offer after a restore: field by field, the later `when`. */
export function withOffer(base: Row | undefined, offer: Row | undefined): Row | undefined {
  if (!offer || !base) return base ?? offer;
  const fields = { ...base.fields };
  for (const [name, field] of Object.entries(offer.fields)) {
    const standing = fields[name];
    if (standing === undefined || field.when > standing.when) fields[name] = field;
  }
  return { ...base, fields };
}

/** Does this unsent change hold that field? A take-back does so only over nothing, or what it takes back. */
function holds(change: Change, standing: Field | undefined, name: string): boolean {
  if (!change.back) return true;
  return standing === undefined || standing.change === (change.saw[name] ?? null);
}

/** What is shown: the outbox, in the order made, over what the server has said. */
export function shown(under: Row | undefined, outbox: readonly Change[]): Row | undefined {
  const first = outbox[0];
  if (first === undefined) return under;
  const fields = { ...under?.fields };
  for (const change of outbox) {
    for (const [name, value] of Object.entries(change.set)) {
      if (!holds(change, fields[name], name)) continue;
      fields[name] = {
        value,
        change: change.id,
        seq: null,
        when: change.made,
        back: change.back,
        saw: change.saw[name] ?? null,
      };
    }
  }
  return { ...(under ?? emptyRow(first.kind, first.record)), fields };
}

export function isRemoved(row: Row): boolean {
  return row.fields.removed?.value === true;
}

/** What a new change to these fields has seen. */
export function seen(row: Row | undefined, names: readonly string[]): Record<string, string | null> {
  return Object.fromEntries(names.map((name) => [name, row?.fields[name]?.change ?? null]));
}

/** How a record of an older version is read by this one, by kind. Fields are never renamed, so none yet. */
export type Upgrades = Record<string, (fields: Row["fields"]) => Row["fields"]>;

export const UPGRADES: Upgrades = {};

/** The record as this version reads it; what it does not know is left word for word. */
export function upgrade(row: Row, upgrades: Upgrades = UPGRADES): Row {
  const how = upgrades[row.kind];
  return how ? { ...row, fields: how(row.fields) } : row;
}
