/** Which machine is this phone at? */
import { computed } from "@preact/signals";
import { text } from "../logbook/read";
import { logbook } from "../logbook/state";
import { sessions } from "../profiling/state";
import { type Machine, readMachine } from "../set_up/model";

export const machines = computed((): Machine[] => logbook.rows("machine").map(readMachine));

/** The machines that profile, as the bench and the set-up know them. */
export const profilers = computed((): Machine[] => machines.value.filter((machine) => machine.does === "profile"));

/** The one chosen on this phone, else that of the newest session, else the first that profiles; null: none yet. */
export const machineHere = computed((): Machine | null => {
  const all = profilers.value;
  const chosen = text(logbook.row("device", logbook.device), "machine");
  const newest = [...sessions.value].sort((a, b) => ((a.began ?? "") < (b.began ?? "") ? 1 : -1)).find((session) => session.machine !== null);
  return all.find((machine) => machine.id === chosen) ?? all.find((machine) => machine.id === newest?.machine) ?? all[0] ?? null;
});

export function workAt(machine: string): void {
  logbook.write([{ kind: "device", record: logbook.device, set: { machine } }]);
}
