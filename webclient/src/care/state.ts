/** What a maker does about care: it was done, it is put off, it is to be done so often. */
import { nowText } from "../clock";
import type { Values } from "../logbook/model";
import { logbook, newId } from "../logbook/state";
import type { CareTask } from "./model";

export function sayDone(task: string): void {
  logbook.write([{ kind: "care_done", record: newId(), set: { task, at: nowText(), what: "done" } }]);
}

/** `until_day`: a calendar day of the workshop. */
export function putOff(task: string, until_day: string): void {
  logbook.write([
    { kind: "care_done", record: newId(), set: { task, at: nowText(), what: "put_off", until_day } },
  ]);
}

/** It was not done after all. */
export function notDone(done: string): void {
  logbook.write([{ kind: "care_done", record: done, set: { removed: true } }]);
}

export type NewTask = Pick<
  CareTask,
  "what" | "words" | "machine" | "tool" | "every_pieces" | "every_sessions" | "every_days"
>;

export function newTask(task: NewTask): string {
  const id = newId();
  logbook.write([{ kind: "care_task", record: id, set: { ...task, since: nowText() } }]);
  return id;
}

export function changeTask(task: string, values: Values): void {
  logbook.write([{ kind: "care_task", record: task, set: values }]);
}

export function removeTask(task: string): void {
  changeTask(task, { removed: true });
}
