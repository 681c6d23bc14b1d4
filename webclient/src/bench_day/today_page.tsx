/** Today: the answer first (what is soaking, when it is ready; else what is next), then what else is due, and one way on. */
import { signal } from "@preact/signals";
import { useEffect } from "preact/hooks";
import { promiseLine } from "../alarms/state";
import { Jar } from "../drawings/Jar";
import { day as dayText, number, wait } from "../language/format";
import { logbook } from "../logbook/state";
import { readyOffline } from "../offline/state";
import { go, route } from "../route";
import * as did_words from "../soak/did_words";
import { HowCut } from "../soak/HowCut";
import { JarRow, SoakLath } from "../soak/JarRow";
import type { Standing } from "../soak/standing";
import { markAs, soaks } from "../soak/state";
import { TakeBack } from "../soak/TakeBack";
import * as soak_words from "../soak/words";
import { press } from "../wet_hands/press";
import { type Next, Page, Saved, Scribed } from "../workshop";
import { ClockLine } from "./clock_line";
import { FirstEvening } from "./first_evening";
import { draftFacts, drying, dueNext, groupNext, isOut, jars, soakTime, toMark } from "./soak_facts";
import { nextThing } from "./today_rules";
import * as words from "./today_words";
import "../soak/screen.css";
import "./today.css";

/** The rest of Today, once it is loaded; null before. */
const late = signal<typeof import("./today_late") | null>(null);

export default function TodayPage() {
  useEffect(() => {
    void Promise.all([import("./today_late"), logbook.whole]).then(([loaded]) => {
      late.value = loaded;
    });
  }, []);
  const loaded = late.value;
  if (loaded !== null && loaded.askedAt(route.value.rest[0]) !== null) return <loaded.AskedInFull />;
  const untouched =
    soaks.value.length === 0 &&
    ["batch", "machine", "session", "tally"].every((kind) => logbook.rows(kind).length === 0);
  return untouched ? <FirstEvening /> : <Today />;
}

function Today() {
  const now = soakTime.value;
  const first = jars.value[0] ?? null;
  const loaded = late.value;
  return (
    <Page title={words.title(dayText(now))} sub={<Saved />} aside={<TakeBack />} next={next(now)}>
      <div class="today wide">
        <div class="today-answer">
          <ClockLine />
          {first !== null ? <Answer one={first} now={now} /> : loaded && <WhatIsNext />}
        </div>
        <div class="today-rest">
          {groupNext.value && (
            <p class="today-line">
              {groupNext.value.at > now
                ? soak_words.next_go_in(groupNext.value.pieces, groupNext.value.at)
                : soak_words.next_due(groupNext.value.pieces)}
            </p>
          )}
          {toMark.value && (
            <HowCut
              one={toMark.value}
              onMark={(mark) => {
                const one = toMark.peek();
                if (one) markAs(did_words.mark, one.soak, mark);
              }}
            />
          )}
          {jars.value.length > 1 && (
            <section class="jar-rows" aria-label={words.others}>
              {jars.value.slice(1).map((one) => (
                <JarRow key={one.soak.id} one={one} onOpen={() => go("soak", one.soak.id)} />
              ))}
            </section>
          )}
          {drying.value.map((one) => (
            <p key={one.soak.id} class="today-line">
              <strong>{one.name}</strong> {soak_words.drying(one.soak.drying_since, now)}
            </p>
          ))}
          {loaded && <loaded.Late now={now} isInWater={first !== null} isOut={isOut.value} />}
          {readyOffline.value && (
            <div class="side-by-side today-line" role="status">
              <p>{words.ready_offline}</p>
              <Scribed
                label={words.put_away}
                onTake={() => {
                  readyOffline.value = false;
                }}
              />
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
        <p class="answer-intro">{waits ? words.ready_in(one.within) : words.done(one.within)}</p>
        <p class={waits && !long ? "answer-figure" : "answer-figure answer-long"}>
          {waits ? (
            long ? (
              wait(one.wait_min)
            ) : (
              <>
                {number(one.wait_min)}
                <span>{words.min}</span>
              </>
            )
          ) : (
            words.ago(one.ago_min)
          )}
        </p>
        <p class="answer-when">
          <strong>{words.ready_at(one.ready)}</strong>{" "}
          {waits && <span class="quiet">{promiseLine.value}</span>}
        </p>
        {one.state === "over" && (
          <p class="alarm">{soak_words.over_line((one.marks.too_soft_s ?? 0) / 60)}</p>
        )}
      </div>
      <button
        type="button"
        class="answer-jar"
        aria-label={soak_words.open(one.name)}
        {...press(() => go("soak", one.soak.id))}
      >
        <Jar pieces={one.soak.pieces ?? 2} wet={one.wet} />
      </button>
      <div class="answer-lath">
        <SoakLath one={one} nowWords={soak_words.now(p.now)} />
      </div>
    </>
  );
}

/** Nothing is in the water: where the session stands, or which cane goes in next. */
function WhatIsNext() {
  const session = late.value?.underWay.value ?? null;
  if (session !== null && session.cut > 0) {
    return (
      <div class="answer-head">
        <p class="answer-figure">{number(session.done)}</p>
        <p class="answer-when">
          <strong>{words.piece_next(session.done, session.batch)}</strong>
          {session.paused !== null && (
            <>
              {" "}
              <span class="quiet">{words.paused(session.paused)}</span>
            </>
          )}
        </p>
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
          <p class="answer-figure">
            {number(left)}
            <span>{words.pieces_word(left)}</span>
          </p>
          <p class="answer-when">
            <strong>{words.batch_waits(batch.label, null)}</strong>
          </p>
        </>
      )}
      {batch !== null && left === null && (
        <p class="answer-when">
          <strong>{words.batch_waits_one(batch.label)}</strong>
        </p>
      )}
    </div>
  );
}

function next(now: number): Next {
  const due = dueNext(jars.value, groupNext.value, now);
  if (due) return due;
  const session = late.value?.underWay.value ?? null;
  const what = nextThing({
    isInWater: jars.value.length > 0,
    isOut: isOut.value,
    session,
  });
  // before the session's facts are there, nothing is offered that they would change under the thumb
  if (late.value === null) return { label: words.today, onTake: () => undefined, disabled: true };
  if (session !== null && what !== "set-up") {
    return {
      label:
        what === "wind-down"
          ? words.wind_down
          : session.cut > 0
            ? words.go_on(session.place)
            : words.to_bench,
      sub: words.bench_sub(session.batch),
      onTake: () => go(what),
    };
  }
  if (what === "set-up")
    return {
      label: words.set_up,
      sub: logbook.rows("session").length > 0 ? words.set_up_sub : words.set_up_first,
      onTake: () => go("set-up"),
    };
  return {
    label: words.soak,
    sub: soaks.value.length > 0 ? words.soak_sub : soak_words.start_clock,
    onTake: () => go("soak", "in"),
  };
}
