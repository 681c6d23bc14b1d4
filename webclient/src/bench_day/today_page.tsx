/** Today: the answer first (what is soaking, when it is ready; else what is next), then what else is due, and one way on. */
import { promiseLine } from "../alarms/state";
import { Jar } from "../drawings/Jar";
import { clockTime, dayOf, day as dayText, number, wait } from "../language/format";
import { logbook } from "../logbook/state";
import { readyOffline } from "../offline/state";
import { go, route } from "../route";
import { HowCut } from "../soak/HowCut";
import { JarRow, SoakLath } from "../soak/JarRow";
import type { Standing } from "../soak/standing";
import { lastOrder, markAs, putNextGroupIn, soaks, takeOut } from "../soak/state";
import { did_words, words as soak_words } from "../soak/words";
import { press } from "../wet_hands/press";
import { type Extra, type Next, Page, Saved, Scribed } from "../workshop";
import { ClockLine } from "./clock_line";
import { CareDue } from "./today_care";
import { FirstAskNow, putOff } from "./first_asks";
import { FirstEvening } from "./first_evening";
import { draftFacts, groupNext, jars, soakTime, toMark } from "./soak_facts";
import { openSession } from "./today_facts";
import { askedAt, ExchangeQuestion, OpenQuestions } from "./today_questions";
import { firstAsk, nextThing } from "./today_rules";
import { words } from "./today_words";
import "../soak/screen.css";
import "./today.css";

export default function TodayPage() {
  const asked = askedAt(route.value.rest[0]);
  if (asked !== null) return <ExchangeQuestion key={asked.id} asked={asked} />;
  const untouched = soaks.value.length === 0 && ["batch", "machine", "session", "tally"].every((kind) => logbook.rows(kind).length === 0);
  return untouched ? <FirstEvening /> : <Today />;
}

function Today() {
  const now = soakTime.value;
  const first = jars.value[0] ?? null;
  const session = openSession.value;
  const ask = firstAsk({
    lots: logbook.rows("lot").length,
    machines: logbook.rows("machine").length,
    blades: logbook.rows("blade").length,
    isInWater: first !== null,
    isAtBench: toMark.value !== null || session !== null,
    later: putOff(dayOf(now)),
  });
  return (
    <Page title={words.title(dayText(now))} sub={<Saved />} next={next(now)} extra={extras()}>
      <div class={first === null ? "today" : "today today-wet"}>
        <div class="today-answer">
          <ClockLine />
          {first !== null ? <Answer one={first} now={now} /> : <WhatIsNext now={now} />}
        </div>
        <div class="today-rest">
          {groupNext.value && <p class="today-line">{groupNext.value.at > now ? soak_words.next_go_in(groupNext.value.pieces, groupNext.value.at) : soak_words.next_due(groupNext.value.pieces)}</p>}
          {toMark.value && <HowCut one={toMark.value} onMark={(mark) => { const one = toMark.peek(); if (one) markAs(did_words.mark, one.soak, mark); }} />}
          {jars.value.length > 1 && (
            <section class="jar-rows" aria-label={words.others}>
              {jars.value.slice(1).map((one) => <JarRow key={one.soak.id} one={one} onOpen={() => go("soak", one.soak.id)} />)}
            </section>
          )}
          {ask && <FirstAskNow key={ask} what={ask} now={now} />}
          <OpenQuestions />
          <CareDue />
          {readyOffline.value && (
            <div class="side-by-side today-line" role="status">
              <p>{words.ready_offline}</p>
              <Scribed label={words.put_away} onTake={() => { readyOffline.value = false; }} />
            </div>
          )}
        </div>
      </div>
    </Page>
  );
}

function Answer(p: { one: Standing; now: number }) {
  const { one } = p;
  const waits = one.state === "in_water";
  const long = one.wait_min >= 100;
  return (
    <>
      <div class="answer-head">
        <p class="answer-intro">{waits ? words.ready_in(one.within) : words.ready_since(one.within)}</p>
        <p class={waits && !long ? "answer-figure" : "answer-figure answer-long"}>
          {waits ? long ? wait(one.wait_min) : <>{number(one.wait_min)}<span>min</span></> : words.done_ago(one.ago_min)}
        </p>
        <p class="answer-when"><strong>{words.ready_at(one.ready)}</strong> {waits && <span class="quiet">{promiseLine.value}</span>}</p>
        {one.state === "over" && <p class="alarm">{soak_words.over_line((one.marks.too_soft_s ?? 0) / 60)}</p>}
      </div>
      <button type="button" class="answer-jar" aria-label={soak_words.open(one.name)} {...press(() => go("soak", one.soak.id))}>
        <Jar pieces={one.soak.pieces ?? 2} wet={one.wet} />
      </button>
      <div class="answer-lath"><SoakLath one={one} nowWords={soak_words.now(p.now)} /></div>
    </>
  );
}

/** Nothing is in the water: where the session stands, or which cane goes in next. */
function WhatIsNext(p: { now: number }) {
  const session = openSession.value;
  if (session !== null && session.done > 0) {
    return (
      <div class="answer-head">
        <p class="answer-figure">{number(session.done)}</p>
        <p class="answer-when"><strong>{words.piece_next(session.batch)}</strong>{session.paused !== null && <> <span class="quiet">{words.paused(session.paused)}</span></>}</p>
      </div>
    );
  }
  const { next: batch } = draftFacts();
  const left = batch?.left ?? null;
  return (
    <div class="answer-head">
      <p class="answer-intro">{words.nothing_in}</p>
      {batch !== null && left !== null && left > 0 && (
        <>
          <p class="answer-figure">{number(left)}<span>{words.pieces(left)}</span></p>
          <p class="answer-when"><strong>{words.batch_waits(batch.label, null)}</strong></p>
        </>
      )}
      {batch !== null && left === null && <p class="answer-when"><strong>{words.batch_waits_one(batch.label)}</strong></p>}
      <p class="quiet">{clockTime(p.now)}</p>
    </div>
  );
}

function extras(): Extra[] {
  const last = lastOrder.value;
  return last === null ? [] : [{ label: soak_words.take_back, name: soak_words.took_back(last.what), onTake: last.takeBack }];
}

function next(now: number): Next {
  const ready = jars.value.find((one) => one.state === "ready" || one.state === "over") ?? null;
  const group = groupNext.value;
  const session = openSession.value;
  const what = nextThing({
    isReady: ready !== null,
    isGroupDue: group !== null && group.at <= now,
    isInWater: jars.value.length > 0,
    isOut: toMark.value !== null,
    session,
  });
  if (what === "take_out" && ready !== null) {
    return { label: soak_words.take_out(ready.soak.pieces), sub: soak_words.jar_free(ready.name, ready.soak.jar), onTake: () => { takeOut(did_words.out, ready.soak); go("soak"); } };
  }
  if (what === "put_in_group" && group !== null) {
    return { label: soak_words.put_in(group.pieces, null), sub: soak_words.next_due(group.pieces), onTake: () => putNextGroupIn(did_words.put_in) };
  }
  if (what === "bench" && session !== null) {
    return { label: session.done > 0 ? words.go_on(session.done + 1) : words.to_bench, sub: words.bench_sub(session.batch), onTake: () => go("bench") };
  }
  if (what === "set_up") return { label: words.set_up, sub: words.set_up_sub, onTake: () => go("set-up") };
  return { label: words.soak, sub: soaks.value.length > 0 ? words.soak_sub : soak_words.start_clock, onTake: () => go("soak", "in") };
}
