/** Is this phone's clock to be trusted? Said where a time is read, with what can be done. */
import { useState } from "preact/hooks";
import { minute } from "../clock";
import { clockTime } from "../language/format";
import { logbook } from "../logbook/state";
import { clockJump } from "../offline/state";
import { go } from "../route";
import * as did_words from "../soak/did_words";
import { inTheWater, putInAt, putInLooksWrong } from "../soak/rules";
import { putRight, soaks, workshopTime } from "../soak/state";
import * as words from "../soak/words";
import { QuestionSides, Scribed } from "../workshop";
import { WorkshopClock } from "./workshop_clock";

/** Differences below this are the network's delay and slow clocks. */
const OFF_MS = 600_000;

export function ClockLine() {
  const jump = clockJump.value;
  const off = logbook.status.value.clockOff_ms;
  const now = workshopTime(minute.value);
  const wrong = inTheWater(soaks.value).find((soak) => putInLooksWrong(soak, now));
  const [kept, setKept] = useState<string | null>(null);
  const first = inTheWater(soaks.value)[0];
  if (jump !== null && first !== undefined) {
    // Put in before the jump, on the old clock: by the new one it was `by_ms` later, or the clock was simply set right.
    const said = putInAt(first) ?? now;
    const moved = said + jump.by_ms;
    const put_away = (): void => {
      clockJump.value = null;
    };
    return (
      <section class="stack" aria-label={words.ask_start}>
        <h2>{words.clock_jumped(jump.by_ms > 0, Math.abs(jump.by_ms) / 60_000)}</h2>
        <p>{words.clock_jumped_sub}</p>
        <QuestionSides
          sides={[
            {
              label: words.in_at_clock(said),
              sub: words.by_old_clock,
              drawing: <WorkshopClock ms={said} />,
              onTake: put_away,
            },
            {
              label: words.in_at_clock(moved),
              sub: words.by_new_clock,
              drawing: <WorkshopClock ms={moved} />,
              onTake: () => {
                shiftAll(jump.by_ms);
                put_away();
              },
            },
          ]}
        />
      </section>
    );
  }
  if (wrong !== undefined && kept !== wrong.id) {
    return (
      <section class="stack" aria-label={words.ask_start}>
        <h2>{words.put_right_ask(putInAt(wrong) ?? now)}</h2>
        <div class="side-by-side">
          <Scribed
            label={words.yes_right(clockTime(putInAt(wrong) ?? now))}
            onTake={() => setKept(wrong.id)}
          />
          <Scribed label={words.no_put_right} onTake={() => go("soak", wrong.id)} />
        </div>
      </section>
    );
  }
  if (off !== null && Math.abs(off) >= OFF_MS)
    return <p class="alarm">{words.clock_off(off > 0, Math.abs(off) / 60_000)}</p>;
  return null;
}

/** Every soak in the water was timed by the old clock: all move with it. */
function shiftAll(by_ms: number): void {
  for (const soak of inTheWater(soaks.peek())) {
    const put_in = putInAt(soak);
    if (put_in !== null) putRight(did_words.put_right, soak, put_in + by_ms);
  }
}
