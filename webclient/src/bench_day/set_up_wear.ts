/** What was set in Machine holds on every screen: day or night, the hand, the workshop's time zone. */
import { effect } from "@preact/signals";
import { timeZone } from "../language/format";
import { inInches } from "../language/length";
import { text } from "../logbook/read";
import { logbook } from "../logbook/state";
import { wearLook } from "../look/apply";
import { WORKSHOP } from "./care_facts";

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
  });
}

function isZone(name: string): boolean {
  try {
    return Boolean(new Intl.DateTimeFormat("en", { timeZone: name }));
  } catch {
    return false;
  }
}
