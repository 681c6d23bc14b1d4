/** On which quiet day is a change of blade due? Joins care with the batches that are planned. */
import type { Batch } from "../batches/model";
import { batches } from "../batches/state";
import { onQuietDay } from "../care/foreseen_rules";
import { type Due, inOrder } from "../care/rules";
import { today } from "./care_facts";

/** The day for which an open batch is planned on this machine, or on none in particular; null: on any. */
export const plannedFor = ({ closed, plannedDay, machine }: Batch, on: string | null): string | null =>
  closed || (on !== null && machine !== null && machine !== on) ? null : plannedDay;

const isDay = (day: string | null): day is string => day !== null;

export const onQuietDays = (dues: readonly Due[], all: readonly Batch[], now: string): Due[] =>
  inOrder(
    dues.map((due) =>
      due.task.what === "change"
        ? onQuietDay(due, all.map((batch) => plannedFor(batch, due.task.machine)).filter(isDay), now)
        : due,
    ),
  );

export const duesOnQuietDays = (dues: readonly Due[]): Due[] => onQuietDays(dues, batches.value, today.value);
