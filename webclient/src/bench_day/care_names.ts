/** What is a care task called, on Care and on Today? */
import type { Due } from "../care/rules";
import { taskName } from "../care/words";
import { machines } from "./bench_facts";

export const machineName = (id: string | null): string | null =>
  machines.value.find((machine) => machine.id === id)?.name ?? null;

/** The machine is named only where there are several. */
export const dueName = ({ task }: Due): string =>
  taskName(task, machines.value.length > 1 ? machineName(task.machine) : null);
