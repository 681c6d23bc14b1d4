/** The open questions on Today, a line each; and one of the exchange's opened: its two sides, and what harms nothing. */
import { WrittenSheet } from "../drawings/ClockFace";
import type { Asked } from "../logbook/asked";
import { logbook } from "../logbook/state";
import { save } from "../records/state";
import { go } from "../route";
import * as did_words from "../soak/did_words";
import { inTheWater, putInAt } from "../soak/rules";
import { putRight, soaks } from "../soak/state";
import * as soak_words from "../soak/words";
import { press } from "../wet_hands/press";
import { Question, Saved, type Side } from "../workshop";
import { asked_words } from "./asked_words";
import { askedNow, exchangeAsks } from "./today_asked";
import * as words from "./today_words";
import { WorkshopClock } from "./workshop_clock";

export function OpenQuestions() {
  if (askedNow.value.length === 0) return null;
  return (
    <section aria-label={words.also}>
      <h2>{words.also}</h2>
      <ul class="today-care">
        {askedNow.value.map((one) => (
          <li key={one.key}>
            <button type="button" class="today-care-row" {...press(one.onTake)}>
              <strong>{one.label}</strong> <span>{one.sub}</span>
            </button>
          </li>
        ))}
      </ul>
    </section>
  );
}

/** The exchange's question of that id, if it still stands. */
export function askedAt(id: string | undefined): Asked | null {
  return exchangeAsks.value.find((one) => one.id === id) ?? null;
}

export function ExchangeQuestion(p: { asked: Asked }) {
  const { asked } = p;
  const said = asked_words[asked.kind];
  const leave = (): void => {
    // a refused one stays listed until it is put away; the clock's line goes when the clock is right
    if (!["refused", "clock", "update"].includes(asked.kind)) logbook.answered(asked.id);
    go("today");
  };
  return (
    <Question
      title={said.title(asked.facts)}
      sub={<Saved />}
      sides={sidesOf(asked)}
      meanwhile={
        <>
          {said.meanwhile}
          {typeof asked.facts["problem"] === "string" && <> {asked_words.reason(asked.facts["problem"])}</>}
        </>
      }
      next={{ label: said.leave, sub: said.leave_sub, onTake: leave }}
    />
  );
}

function sidesOf(asked: Asked): Side[] {
  const said = asked_words[asked.kind];
  if (asked.kind === "refused") {
    return [
      {
        label: asked_words.save_file,
        sub: asked_words.save_file_sub,
        drawing: <WrittenSheet />,
        onTake: () => saveAsFile(asked),
      },
      {
        label: said.act,
        sub: said.act_sub,
        drawing: <WrittenSheet cut={0.3} />,
        onTake: () => {
          logbook.answered(asked.id);
          go("today");
        },
      },
    ];
  }
  if (asked.kind === "clock") {
    const soak = inTheWater(soaks.value)[0];
    if (soak === undefined || soak.put_in === null) return [];
    const at = startsBy(asked);
    const by = [
      ["workshops", asked_words.by_workshop],
      ["phones", asked_words.by_phone],
    ] as const;
    return by.map(([whose, sub]) => ({
      label: soak_words.in_at_clock(at[whose]),
      sub: `${sub}, ${soak_words.ready_at(at[whose] + soak.soak_s * 1000)}`,
      drawing: <WorkshopClock ms={at[whose]} />,
      onTake: () => timedBy(asked, whose),
    }));
  }
  if (said.act === undefined) return [];
  return [
    {
      label: said.act,
      sub: said.act_sub,
      onTake: () => {
        if (asked.act) asked.act();
        else go("soak");
      },
    },
  ];
}

/** When the first one in the water went in: by the workshop's clock, and as this phone's clock had it. */
function startsBy(asked: Asked): { workshops: number; phones: number } {
  const off = typeof asked.facts["off_ms"] === "number" ? asked.facts["off_ms"] : 0;
  const written = Date.parse(inTheWater(soaks.peek())[0]?.put_in ?? "");
  return { workshops: written - off, phones: written };
}

/** All that soaks was timed by the same clock: one answer counts for all. */
function timedBy(asked: Asked, clock: "workshops" | "phones"): void {
  const off = typeof asked.facts["off_ms"] === "number" ? asked.facts["off_ms"] : 0;
  for (const soak of inTheWater(soaks.peek())) {
    if (soak.put_in === null) continue;
    const start = Date.parse(soak.put_in) - (clock === "workshops" ? off : 0);
    if (start !== putInAt(soak)) putRight(did_words.put_right, soak, start);
  }
  go("today");
}

const saveAsFile = (asked: Asked): void =>
  save({
    name: "easelside-not-taken.json",
    type: "application/json",
    text: JSON.stringify(asked.facts, null, 2),
  });
