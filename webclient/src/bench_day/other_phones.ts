/** What Today says of other phones. Its script is one of its own: a bench day on one machine never needs it. */
import { signal } from "@preact/signals";
import type { FunctionComponent } from "preact";

export const otherPhones = signal<{ NotLetIn: FunctionComponent; AtMachines: FunctionComponent } | null>(
  null,
);
