/** The bell of a locked phone for what is in the water, and for the phone check. */
import { signal } from "@preact/signals";
import { keepTrack } from "../alarms/bell_track";
import * as words from "../alarms/phone_words";
import { type Ending, MORE_MS, ringing } from "../alarms/rules";
import { thisPhone } from "../alarms/state";
import { now, nowText } from "../clock";
import { flag, text } from "../logbook/read";
import { logbook } from "../logbook/state";
import { workshopTime } from "../soak/state";
import { answer, endings, soakOf } from "./ringing";
import { standing } from "./soak_facts";

/** When the phone check rings, ms by this phone's clock; null: none is under way. */
export function checkEnds(): number | null {
  const said = text(thisPhone(), "check_ends_at");
  return said === null ? null : Date.parse(said);
}

/** The check that was silenced by a key still waits for its answer. */
const silenced = signal<number | null>(null);

/** Of a soak, with this phone's id behind it: when its bell stopped here, and when its calendar was asked. */
export const INTERRUPTED = "bell_interrupted_at/";
export const ASKED = "calendar_asked_at/";

/** null: the maker has not said. */
export const ringsLocked = (): boolean | null => flag(thisPhone(), "rings_locked");

const waits = (): Ending[] =>
  endings.value.filter(({ again_at, silenced }) => again_at !== null || !silenced);

export function startLockedBell(): void {
  keepTrack(
    () => {
      const ours = ringsLocked() === true ? waits() : [];
      const time = now();
      const ahead = time - workshopTime(time);
      const bells = ours.map((ending) => (ending.again_at ?? ending.at) + ahead);
      const first = ours[bells.indexOf(Math.min(...bells))];
      const soak = first && soakOf(first);
      const title = soak
        ? words.track_title(standing(soak, now()).name, first.again_at ?? first.at)
        : words.check;
      const check = checkEnds();
      return { bells: check === null || check === silenced.value ? bells : [...bells, check], title };
    },
    {
      silence: () => {
        silenced.value = checkEnds();
        for (const one of ringing(endings.peek(), workshopTime(now()))) answer(one, nowText(), null);
      },
      more: () => {
        const [first] = ringing(endings.peek(), workshopTime(now()));
        if (first) answer(first, nowText(), new Date(workshopTime(now()) + MORE_MS).toISOString());
      },
      interrupted: (at) => {
        const set = { [INTERRUPTED + logbook.device]: new Date(at).toISOString() };
        const soaks = new Set(waits().flatMap((ending) => soakOf(ending)?.id ?? []));
        logbook.write([...soaks].map((record) => ({ kind: "soak", record, set })));
      },
    },
  );
}
