/** The first evening: nothing is set up. Cane in? Start the clock. How this maker soaks is asked by three drawings. */
import { minute } from "../clock";
import { SoakBowl } from "../drawings/soak_marks";
import * as did_words from "../soak/did_words";
import { planned } from "../soak/rules";
import { habit, startFirst, workshopTime } from "../soak/state";
import * as words from "../soak/words";
import { Page, Scribed } from "../workshop";

const HABITS = ["warm", "cold", "overnight"] as const;

export function FirstEvening() {
  const ready = workshopTime(minute.value) + planned("warm", habit.value).soak_s * 1000;
  const start = (water: (typeof HABITS)[number]): void => void startFirst(did_words.put_in, water);
  return (
    <Page
      title={words.first_head}
      sub={words.first_sub}
      next={{
        label: words.start_clock,
        sub: words.water_ready("warm", ready),
        onTake: () => start("warm"),
      }}
    >
      <div class="first-ask">
        <h2>{words.first_title}</h2>
        <p>{words.first_ask}</p>
      </div>
      {HABITS.map((water) => (
        <Scribed
          key={water}
          wide
          label={words.water_words[water]}
          sub={words.first_subs[water]}
          drawing={<SoakBowl habit={water} width={48} />}
          onTake={() => start(water)}
        />
      ))}
      <p class="quiet">{words.first_later}</p>
      <p class="quiet">{words.keep_water}</p>
    </Page>
  );
}
