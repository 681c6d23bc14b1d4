/** The first evening: nothing is set up. Cane in? Start the clock. How this maker soaks is asked by three drawings. */
import { useState } from "preact/hooks";
import { minute } from "../clock";
import { SoakBowl } from "../drawings/soak_marks";
import * as did_words from "../soak/did_words";
import { planned } from "../soak/rules";
import { habit, startFirst, workshopTime } from "../soak/state";
import * as words from "../soak/words";
import { Choice, Page } from "../workshop";
import "./today.css";

type Habit = "warm" | "cold" | "overnight";

export function FirstEvening() {
  const [water, setWater] = useState<Habit>("warm");
  const ready = workshopTime(minute.value) + planned(water, habit.value).soak_s * 1000;
  return (
    <Page
      title={words.first_head}
      sub={words.first_sub}
      next={{
        label: words.start_clock,
        sub: words.water_ready(water, ready),
        onTake: () => startFirst(did_words.put_in, water),
      }}
    >
      <div class="first-ask">
        <h2>{words.first_title}</h2>
        <p>{words.first_ask}</p>
      </div>
      <Choice<Habit>
        legend={words.habit}
        quietLegend
        value={water}
        onChange={setWater}
        options={[
          {
            value: "warm",
            label: words.warm,
            sub: words.warm_sub,
            drawing: <SoakBowl habit="warm" width={70} />,
          },
          {
            value: "cold",
            label: words.cold,
            sub: words.cold_sub,
            drawing: <SoakBowl habit="cold" width={70} />,
          },
          {
            value: "overnight",
            label: words.overnight,
            sub: words.overnight_sub,
            drawing: <SoakBowl habit="overnight" width={70} />,
          },
        ]}
      />
      <p class="quiet">{words.first_later}</p>
      <p class="quiet">{words.keep_water}</p>
    </Page>
  );
}
