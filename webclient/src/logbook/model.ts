/** What is a change, and what is a record? The shapes that the phone, its store and the server share. */

export type Value = null | boolean | number | string | Value[] | { [name: string]: Value };

export type Values = Record<string, Value>;

/** "This record's fields became this, at this time, on this device": made once, never altered. */
export interface Change {
  id: string;
  v: 1;
  kind: string;
  record: string;
  device: string;
  /** the phone's plain clock reading, RFC 3339 in UTC */
  made: string;
  set: Values;
  /** for each field, the change whose value stood there when it was written over */
  saw: Record<string, string | null>;
  /** true for a take-back */
  back: boolean;
}

export interface Field {
  value: Value;
  change: string;
  /** the server's number; null while it is not yet sent */
  seq: number | null;
  when: string;
  back: boolean;
  saw: string | null;
}

export interface Row {
  kind: string;
  id: string;
  fields: Record<string, Field>;
}

export interface Edit {
  kind: string;
  record: string;
  set: Values | ((changeId: string) => Values);
  back?: boolean;
}

/** A field as an answer names it: a winner. */
export interface Winner {
  value: Value;
  change: string;
  seq: number;
  when: string;
  back?: boolean;
  saw?: string | null;
}

/** A change as the server numbered it. `won` names the fields that it took. */
export interface Arrival {
  id: string;
  seq: number;
  kind: string;
  record: string;
  when: string;
  set: Values;
  saw: Record<string, string | null>;
  back: boolean;
  won: string[];
  device?: string;
  made?: string;
}

/** The server's answer to one of this phone's own changes. */
export interface Acknowledgement {
  id: string;
  seq: number;
  when: string;
  won: string[];
  /** the winner of each field that was not won; null where the logbook knows none */
  lost: Record<string, Winner | null>;
}

/** A change that the server has, kept while no backup is sure to hold it. */
export interface Kept {
  /** its place in the order made on this phone */
  n: number;
  change: Change;
  seq: number;
  when: string;
  won: string[];
}

/** The last row that the server told of: its number and the hash chained to it. */
export interface End {
  seq: number;
  hash: string;
}
