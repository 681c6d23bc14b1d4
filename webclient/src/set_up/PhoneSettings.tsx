/** How does this phone look, which hand taps, does it speak, what does the pedal do? */
import type { ComponentChildren } from "preact";
import { go } from "../route";
import { Check, Choice, KeptField, Page } from "../workshop";
import * as w from "./machine_words";
import { changeDevice } from "./state";

export type Look = "phone" | "day" | "night";
export type Hand = "right" | "left";

export function PhoneSettings(p: {
  name: string | null;
  look: Look;
  hand: Hand;
  speaks: boolean;
  speaks_count: boolean;
  /** what rings on it */
  rings: ComponentChildren;
  pedals: ComponentChildren;
}) {
  return (
    <Page title={w.this_phone} next={{ label: w.back, onTake: () => go("machine") }}>
      <Choice
        tiles
        legend={w.look}
        value={p.look}
        onChange={(look) => changeDevice({ look })}
        options={[
          { value: "phone", label: w.look_phone },
          { value: "day", label: w.look_day },
          { value: "night", label: w.look_night },
        ]}
      />
      <Choice
        tiles
        legend={w.hand}
        value={p.hand}
        onChange={(hand) => changeDevice({ hand })}
        options={[
          { value: "left", label: w.left },
          { value: "right", label: w.right },
        ]}
      />
      <Check
        label={w.speaks}
        sub={w.speaks_sub}
        checked={p.speaks}
        onChange={(speaks) => changeDevice({ speaks })}
      />
      <Check
        label={w.speaks_count}
        checked={p.speaks_count}
        onChange={(speaks_count) => changeDevice({ speaks_count })}
      />
      {p.rings}
      <KeptField
        label={w.phone_name}
        value={p.name ?? ""}
        onKeep={(name) => changeDevice({ name: name === "" ? null : name })}
      />
      {p.pedals}
    </Page>
  );
}
