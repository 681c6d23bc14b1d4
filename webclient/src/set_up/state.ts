/** What a maker does at the set-up: answers a row, moves a screw, writes a machine down. */
import { nowText } from "../clock";
import type { Edit, Value, Values } from "../logbook/model";
import { logbook, newId } from "../logbook/state";
import type { Answer, Machine, Setting, Stop, What } from "./model";

/** Where a set-up belongs; `session` null: it begins with the first answer. */
export interface At {
  machine: string | null;
  session: string | null;
  batch: string | null;
  setting: string | null;
  counts_turns: boolean;
  /** What oiling the pivot also writes down. */
  oiled: () => Edit[];
}

/** The answers to some rows, in one go; `isOiled` false: the pivot is good without. The session begins where there is none. Returns its id. */
export function answer(at: At, answers: Partial<Record<What, Answer | null>>, isOiled = true): string {
  const session = at.session ?? newId();
  const set: Values = {};
  for (const [what, each] of Object.entries(answers)) set[`check/${what}`] = each;
  if (at.session === null) {
    set["machine"] = at.machine;
    set["began"] = nowText();
    set["batches"] = at.batch === null ? [] : [at.batch];
    set["setting"] = at.setting;
    if (at.machine !== null) set["turns"] = at.counts_turns;
  }
  const edits: Edit[] = [{ kind: "session", record: session, set }];
  if (isOiled && answers.pivot === "good") edits.push(...at.oiled());
  logbook.write(edits);
  return session;
}

/** The answer to a row is taken off again. */
export function takeOff(session: string, what: What): void {
  logbook.takeBack("session", session, { [`check/${what}`]: null });
}

const stopValue = (stop: Stop | null): Value => (stop === null ? null : { way: stop.way, value: stop.value });

/** A whole new setting: what moved, over what stood; `why` in the maker's words. */
export function set(
  machine: string,
  blade: string | null,
  stood: Setting | null,
  moved: Partial<Pick<Setting, "middle_stop" | "shoulder_stop" | "projection_mm" | "template">>,
  why: string,
): string {
  const now = { ...stood, ...moved };
  const id = newId();
  logbook.write([
    {
      kind: "setting",
      record: id,
      set: {
        machine,
        blade,
        middle_stop: stopValue(now.middle_stop ?? null),
        shoulder_stop: stopValue(now.shoulder_stop ?? null),
        projection_mm: now.projection_mm ?? null,
        template: now.template ?? null,
        why: why === "" ? null : why,
        moved: Object.keys(moved),
        at: nowText(),
      },
    },
  ]);
  return id;
}

/** Back to an earlier setting: a new one with the same values. */
export function backTo(earlier: Setting, blade: string | null, why: string): string {
  const { middle_stop, shoulder_stop, projection_mm, template } = earlier;
  return set(earlier.machine, blade, null, { middle_stop, shoulder_stop, projection_mm, template }, why);
}

export const takeSettingBack = (setting: string): void =>
  void logbook.write([{ kind: "setting", record: setting, set: { removed: true } }]);

export function newMachine(name: string): string {
  const id = newId();
  logbook.write([{ kind: "machine", record: id, set: { name, does: "profile", instrument: "bassoon" } }]);
  return id;
}

export function changeMachine(machine: Machine, values: Values): void {
  logbook.write([{ kind: "machine", record: machine.id, set: values }]);
}

export function changeDevice(values: Values): void {
  logbook.write([{ kind: "device", record: logbook.device, set: values }]);
}

export function changeWorkshop(id: string, values: Values): void {
  logbook.write([{ kind: "workshop", record: id, set: values }]);
}

/** The reason is added to a setting that has none; its figures stay as they are. */
export function noteWhy(setting: string, why: string): void {
  logbook.write([{ kind: "setting", record: setting, set: { why } }]);
}
