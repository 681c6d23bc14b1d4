/** Soak: into the water, in the water, one jar opened. Joins soak, batches, the bell and the clock's watch. */
import { useState } from "preact/hooks";
import { promiseLine, shortPromise } from "../alarms/state";
import { clockTime } from "../language/format";
import { go, route } from "../route";
import * as did_words from "../soak/did_words";
import { intoOf, newDraft } from "../soak/draft";
import { Jars } from "../soak/Jars";
import type { Soak } from "../soak/model";
import { Opened } from "../soak/Opened";
import { PutIn } from "../soak/PutIn";
import type { Standing } from "../soak/standing";
import {
  addPieces,
  changePlanned,
  dryBack,
  dryEnough,
  endRow,
  keepHabit,
  markAs,
  neverWentIn,
  putRight,
  say,
  soaks,
  startSoak,
} from "../soak/state";
import { TakeBack } from "../soak/TakeBack";
import * as words from "../soak/words";
import { type Next, Saved } from "../workshop";
import { ClockLine } from "./clock_line";
import { ofPhones } from "./other_phones";
import {
  draftFacts,
  drying,
  dueNext,
  groupNext,
  isOut,
  jars,
  outOfJar,
  soakTime,
  standing,
  toMark,
} from "./soak_facts";

/** Until the script that knows of locked phones is here, what rings with the screen on. */
function whatRings(soak: Soak | null) {
  const more = ofPhones.value;
  return more ? <more.WhatRings soak={soak} /> : <p class="quiet">{promiseLine.value}</p>;
}

export default function SoakPage() {
  const where = route.value.rest[0] ?? null;
  const soak = soaks.value.find((each) => each.id === where);
  if (soak) return <OpenedJar key={soak.id} one={standing(soak, soakTime.value)} />;
  const something = jars.value.length + drying.value.length > 0 || toMark.value !== null;
  return where === "in" || !something ? <Into /> : <InTheWater />;
}

function Into() {
  const facts = draftFacts();
  const [draft, setDraft] = useState(() => newDraft(facts));
  const into = intoOf(facts, draft);
  const putIn = (): void => {
    startSoak(did_words.put_in, into, draft.fresh);
    go("soak");
  };
  return (
    <PutIn
      sub={<Saved />}
      facts={facts}
      draft={draft}
      onDraft={setDraft}
      onPutIn={putIn}
      onKeepHabit={() => keepHabit(did_words.habit, into.water, into.soak_s)}
      rings={shortPromise.value}
      bell={whatRings(null)}
      clock={<ClockLine />}
      aside={<TakeBack />}
      onBack={jars.value.length > 0 ? () => go("soak") : null}
    />
  );
}

/** What Take out, Put in, or Put more in is next. */
export function jarsNext(
  all: readonly Standing[],
  group: { at: number; pieces: number } | null,
  now: number,
  caneIsOut: boolean,
): Next {
  const due = dueNext(all, group, now);
  if (due) return due;
  const first = all[0];
  if (first)
    return {
      label: words.set_up,
      sub: words.first_ready(first.name, first.ready),
      onTake: () => go("set-up"),
    };
  if (caneIsOut) return { label: words.set_up, sub: words.nothing_in, onTake: () => go("set-up") };
  return { label: words.put_more_in, sub: words.nothing_in, onTake: () => go("soak", "in") };
}

function InTheWater() {
  const now = soakTime.value;
  const group = groupNext.value;
  return (
    <Jars
      sub={
        <>
          {clockTime(now)}, <Saved />
        </>
      }
      jars={jars.value}
      drying={drying.value}
      toMark={toMark.value}
      now={now}
      bell={whatRings(jars.value[0]?.soak ?? null)}
      nextGroup={group}
      clock={<ClockLine />}
      onMark={(one, mark) => {
        markAs(did_words.mark, one.soak, mark);
        // nothing is left to wait for here: what comes next is the bench's
        if (jars.peek().length === 0) go("today");
      }}
      onOpen={(one) => go("soak", one.soak.id)}
      onDryEnough={(one) => dryEnough(did_words.dry_enough, one.soak)}
      next={jarsNext(jars.value, group, now, isOut.value)}
      aside={<TakeBack />}
      onEndRow={() => endRow(did_words.row)}
      onMore={jars.value.length > 0 || isOut.value ? () => go("soak", "in") : null}
    />
  );
}

function OpenedJar(p: { one: Standing }) {
  const { soak } = p.one;
  const inWater = p.one.state === "in_water" || p.one.state === "ready" || p.one.state === "over";
  const back = (): void => go("soak");
  return (
    <Opened
      one={p.one}
      sub={
        <>
          {words.jar(soak.jar)}, <Saved />
        </>
      }
      now={soakTime.value}
      clock={<ClockLine />}
      bell={whatRings(soak)}
      next={inWater ? outOfJar(p.one, jars.value) : { label: words.back, onTake: back }}
      aside={<TakeBack />}
      onBack={inWater ? back : null}
      onMark={(mark) => markAs(did_words.mark, soak, mark)}
      onPutRight={(ms) => putRight(did_words.put_right, soak, ms)}
      onPlanned={(soak_s) => changePlanned(did_words.planned, soak, soak_s)}
      onAdd={(pieces) => {
        addPieces(did_words.add, soak, pieces);
        back();
      }}
      onDryBack={() => dryBack(did_words.dry, soak)}
      onDryEnough={() => dryEnough(did_words.dry_enough, soak)}
      onNote={(note) => say(did_words.note, soak, { note })}
      onNeverIn={() => {
        neverWentIn(did_words.never, soak);
        back();
      }}
    />
  );
}
