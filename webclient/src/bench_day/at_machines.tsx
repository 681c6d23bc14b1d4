/** Who is at which machine, told by each device's last change; and whether this device is let in at all. */
import { computed } from "@preact/signals";
import { minute } from "../clock";
import { letIn } from "../exchange/state";
import { text } from "../logbook/read";
import { logbook } from "../logbook/state";
import { latestAt } from "../pairing/rules";
import { atMachines } from "../pairing/state";
import * as words from "../pairing/words";
import { go } from "../route";
import { workshopTime } from "../soak/state";
import { Scribed } from "../workshop";

const latest = computed(() =>
  latestAt(
    atMachines.value,
    logbook.rows("machine").map(({ id }) => id),
  ),
);

export const atMachineLines = computed((): string[] =>
  latest.value.map(({ machine, device, at }) => {
    const name =
      device === logbook.device
        ? words.this_phone
        : (text(logbook.row("device", device), "name") ?? words.other_phone);
    const ago_min = Math.max(0, Math.floor((workshopTime(minute.value) - Date.parse(at)) / 60_000));
    return words.at_machine(text(logbook.row("machine", machine), "name") ?? "?", name, ago_min);
  }),
);

/** Alone at the bench, nobody needs to be told so. */
export function AtMachines() {
  if (!latest.value.some(({ device }) => device !== logbook.device)) return null;
  return (
    <section aria-label={words.at_machines}>
      <h2>{words.at_machines}</h2>
      {atMachineLines.value.map((line) => (
        <p key={line}>{line}</p>
      ))}
    </section>
  );
}

/** What is written here goes on being kept. */
export function NotLetIn() {
  const stands = letIn.value;
  if (stands !== "not_paired" && stands !== "withdrawn") return null;
  return (
    <Scribed
      wide
      label={stands === "withdrawn" ? words.withdrawn_line : words.not_paired_line}
      sub={words.unsent_sub(logbook.status.value.unsent)}
      onTake={() => go("phones")}
    />
  );
}
