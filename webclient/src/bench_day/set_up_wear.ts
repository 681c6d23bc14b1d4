/** What was set in Machine holds on every screen: day or night, the hand, the workshop's time zone. */
import { effect } from "@preact/signals";
import { timeZone } from "../language/format";
import { inInches } from "../language/length";
import { WORKSHOP } from "../logbook/ids";
import { text } from "../logbook/read";
import { logbook } from "../logbook/state";
import { wearLook } from "../look/apply";
import { zone } from "./care_facts";

let isZoneTold = false;

export function wearSettings(): void {
  effect(() => {
    const device = logbook.row("device", logbook.device);
    const look = text(device, "look");
    wearLook(
      look === "day" || look === "night" ? look : "phone",
      text(device, "hand") === "left" ? "left" : "right",
    );
  });
  effect(() => {
    inInches.value = text(logbook.row("workshop", WORKSHOP), "lengths") === "inch";
  });
  effect(() => {
    const said = text(logbook.row("workshop", WORKSHOP), "time_zone");
    timeZone.value = said !== null && isZone(said) ? said : undefined;
    // The server reckons days in it as well: once something stands in a workshop, the first phone says where that is.
    const stands = logbook.rows("soak").length + logbook.rows("machine").length;
    if (said === null && stands > 0 && logbook.status.value.exchange === "ok" && !isZoneTold) {
      isZoneTold = true;
      logbook.write([{ kind: "workshop", record: WORKSHOP, set: { time_zone: zone.peek() } }]);
    }
  });
}

function isZone(name: string): boolean {
  try {
    return Boolean(new Intl.DateTimeFormat("en", { timeZone: name }));
  } catch {
    return false;
  }
}
