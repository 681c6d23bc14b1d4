/** The bell for soaks and for groups that are due in the water, over whatever screen stands open. */
import { computed, effect } from "@preact/signals";
import { render } from "preact";
import { Ringing } from "../alarms/Ringing";
import { type Ending, MORE_MS } from "../alarms/rules";
import { rings, watch } from "../alarms/state";
import * as words from "../alarms/words";
import { minute, now, nowText } from "../clock";
import { logbook } from "../logbook/state";
import { go } from "../route";
import * as did_words from "../soak/did_words";
import type { Soak } from "../soak/model";
import { inTheWater, nextGroup, readyAt } from "../soak/rules";
import { putNextGroupIn, soaks, takeOut, workshopTime } from "../soak/state";
import * as soak_words from "../soak/words";
import { standing } from "./soak_facts";

const GROUP = "group:";

/** Silenced groups leave no record of their own: the answer stands on the soak before them. */
export const endings = computed((): Ending[] => {
  const all = soaks.value;
  const soaking = inTheWater(all)
    .filter((soak) => readyAt(soak) !== null)
    .map(
      (soak): Ending => ({
        id: soak.id,
        at: readyAt(soak) ?? 0,
        silenced: soak.silenced_at !== null,
        again_at: again(soak.rings_again_at),
      }),
    );
  const group = nextGroup(all, workshopTime(minute.value));
  const last = group?.row.at(-1);
  if (group === null || last === undefined) return soaking;
  return [
    ...soaking,
    {
      id: GROUP + last.id,
      at: group.at,
      silenced: last.next_silenced_at !== null,
      again_at: again(last.next_rings_again_at),
    },
  ];
});

function again(said: string | null): number | null {
  return said === null ? null : Date.parse(said);
}

export function soakOf(ending: Ending): Soak | undefined {
  const id = ending.id.startsWith(GROUP) ? ending.id.slice(GROUP.length) : ending.id;
  return soaks.peek().find((soak) => soak.id === id);
}

function spoken(ending: Ending): string {
  const soak = soakOf(ending);
  if (soak === undefined) return words.ringing;
  if (ending.id.startsWith(GROUP))
    return words.spoken_next(
      soak_words.next_name(nextGroup(soaks.peek(), workshopTime(now()))?.pieces ?? null),
    );
  return words.spoken(standing(soak, workshopTime(now())).name, soak.pieces);
}

export function answer(ending: Ending, silenced: string | null, again_at: string | null): void {
  const soak = soakOf(ending);
  if (soak === undefined) return;
  const fields = ending.id.startsWith(GROUP)
    ? { next_silenced_at: silenced, next_rings_again_at: again_at }
    : { silenced_at: silenced, rings_again_at: again_at };
  logbook.write([{ kind: "soak", record: soak.id, set: fields }]);
}

function OnTop() {
  const first = rings.value[0];
  const soak = first === undefined ? undefined : soakOf(first);
  if (first === undefined || soak === undefined) return null;
  const time = workshopTime(minute.value);
  const isGroup = first.id.startsWith(GROUP);
  const pieces = isGroup ? (nextGroup(soaks.value, time)?.pieces ?? null) : soak.pieces;
  const title = isGroup
    ? soak_words.next_due(pieces ?? 0)
    : soak_words.named_ready(standing(soak, time).name);
  return (
    <Ringing
      key={first.id}
      title={title}
      line={(isGroup ? words.due_at : words.done_at)(first.at, Math.max(0, (time - first.at) / 60_000))}
      take={isGroup ? soak_words.put_in(pieces, null) : soak_words.take_out(pieces)}
      onTake={() => {
        if (isGroup) putNextGroupIn(did_words.put_in);
        else {
          takeOut(did_words.out, soak);
          go("soak");
        }
      }}
      onSilence={() => answer(first, nowText(), null)}
      onMore={() => answer(first, nowText(), new Date(workshopTime(now()) + MORE_MS).toISOString())}
    />
  );
}

export function startRinging(): void {
  watch(() => endings.value, workshopTime, spoken);
  const over = document.createElement("div");
  document.body.append(over);
  effect(() => {
    // the room on the screen keeps the pedal while nothing rings
    if (rings.value.length > 0) render(<OnTop />, over);
    else render(null, over);
  });
}
