/** What a maker does with blades; every move is a record of its own and can be taken back. */
import { nowText } from "../clock";
import type { Edit, Values } from "../logbook/model";
import { text } from "../logbook/read";
import { logbook, newId } from "../logbook/state";
import type { MoveWhat } from "./model";
import * as words from "./words";

export function newBlade(label: string): string {
  const id = newId();
  logbook.write([{ kind: "blade", record: id, set: { label } }]);
  return id;
}

export function rename(blade: string, label: string): void {
  logbook.write([{ kind: "blade", record: blade, set: { label: label || null } }]);
}

/** What is wrong with this label, for that blade or for a new one. */
export const taken = (label: string, blade?: string): string | undefined =>
  logbook.rows("blade").some((row) => row.id !== blade && text(row, "label") === label)
    ? words.label_taken
    : undefined;

/** When it was: now, at an instant, or at a piece of a session or tally. */
export interface When {
  at: string;
  inside: { record: string; piece: number } | null;
}

/**
 * A blade goes into a machine; `took_out` is the one that this phone saw there. `later`: the fitting after it that is
 * known here and took out, as is now known, this blade.
 */
export function fitBlade(
  machine: string,
  blade: string,
  took_out: string | null,
  when: When,
  later: string | null = null,
): void {
  const set: Values = { blade, machine, what: "fitted", at: when.at, took_out };
  if (when.inside !== null)
    Object.assign(set, { inside_record: when.inside.record, inside_piece: when.inside.piece });
  const edits: Edit[] = [{ kind: "blade_move", record: newId(), set }];
  if (later !== null) edits.push({ kind: "blade_move", record: later, set: { took_out: blade } });
  logbook.write(edits);
}

const moved = (blade: string, what: MoveWhat, machine: string | null = null): Edit => ({
  kind: "blade_move",
  record: newId(),
  set: { blade, machine, what, at: nowText() },
});

export function takeOut(blade: string, machine: string): void {
  logbook.write([moved(blade, "taken_out", machine)]);
}

export function send(blades: readonly string[]): void {
  logbook.write(blades.map((blade) => moved(blade, "sent")));
}

/** Back from the grinder with a fresh edge. */
export function backGround(blades: readonly string[]): void {
  logbook.write(blades.map((blade) => moved(blade, "back")));
}

export function groundHere(blade: string): void {
  logbook.write([moved(blade, "ground")]);
}

export function retire(blade: string): void {
  logbook.write([moved(blade, "retired")]);
}
