/** What runs beside every room once the first stands: the bell for what is in the water, and the Chest's lines. */
import { effect } from "@preact/signals";
import { startRinging } from "./ringing";
import { drawers } from "./chest_lines";
import { wearSettings } from "./set_up_wear";
import { chest } from "../workshop/chest_state";

export default function beside(): void {
  wearSettings();
  effect(() => {
    chest.value = drawers.value;
  });
  startRinging();
}
