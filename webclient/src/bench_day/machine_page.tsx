/** The machine's place: how it stands, what is written down of it, this phone, the workshop. */
import { STAGES } from "../batches/model";
import { fittedMove } from "../blades/rules";
import { USUAL_BOX } from "../care/rules";
import { inInches } from "../language/length";
import { WORKSHOP } from "../logbook/ids";
import { flag, num, text, texts } from "../logbook/read";
import { logbook } from "../logbook/state";
import { go, route } from "../route";
import { FirstMachine } from "../set_up/FirstMachine";
import { Habits, Screws } from "../set_up/MachineParts";
import { MachineRoom, WhyNoted } from "../set_up/MachineRoom";
import { PhoneSettings } from "../set_up/PhoneSettings";
import { changeWorkshop } from "../set_up/state";
import { type Stage, type WorkshopFacts, WorkshopSettings } from "../set_up/WorkshopSettings";
import * as words from "../set_up/words";
import { PRACTICE_S } from "../soak/rules";
import { benchFacts, machines, pickedMachine } from "./bench_facts";
import { labelOf, timeline, zone } from "./care_facts";
import { ofPhones } from "./other_phones";
import { settingsAt, undoneOn } from "./set_up_facts";

export default function MachinePage() {
  const [first, part] = route.value.rest;
  if (first === "phone") return <ThisPhone />;
  if (first === "workshop")
    return (
      <WorkshopSettings facts={workshopFacts()} onChange={(values) => changeWorkshop(WORKSHOP, values)} />
    );
  const machine =
    machines.value.find((each) => each.id === (first ?? benchFacts.value.machine?.id)) ??
    machines.value[0] ??
    null;
  if (machine === null || first === "new") {
    return (
      <FirstMachine
        onKept={(id) => {
          pickedMachine.value = id;
          go("machine", id);
        }}
        onLater={() => go(machine === null ? "today" : "machine")}
      />
    );
  }
  if (part === "screws") return <Screws machine={machine} />;
  if (part === "habits") return <Habits machine={machine} />;
  const facts = {
    machine,
    others: machines.value.filter((other) => other.id !== machine.id),
    settings: settingsAt(machine.id),
    undone: undoneOn(machine.id),
    blade: fittedMove(timeline.value, machine.id)?.blade ?? null,
    bladeLabel: (blade: string | null): string | null => {
      const label = labelOf(blade);
      return label === null ? null : words.blade(label);
    },
  };
  return part === "why" ? <WhyNoted facts={facts} /> : <MachineRoom key={machine.id} facts={facts} />;
}

function ThisPhone() {
  const device = logbook.row("device", logbook.device);
  const look = text(device, "look");
  return (
    <PhoneSettings
      name={text(device, "name")}
      look={look === "day" || look === "night" ? look : "phone"}
      hand={text(device, "hand") === "left" ? "left" : "right"}
      speaks={flag(device, "speaks") !== false}
      speaks_count={flag(device, "speaks_count") === true}
      rings={ofPhones.value && <ofPhones.value.PhoneRings />}
      pedals={ofPhones.value && <ofPhones.value.PedalKeys />}
    />
  );
}

function workshopFacts(): WorkshopFacts {
  const row = logbook.row("workshop", WORKSHOP);
  const said = texts(row, "stages").filter((each): each is Stage => STAGES.some((stage) => stage === each));
  const { warm_s, cold_s, overnight_s } = soakTimes();
  const known = (kind: "timeZone" | "currency"): string[] => Intl.supportedValuesOf(kind);
  const zones = known("timeZone");
  const habitSaid = text(row, "soak_habit");
  return {
    name: text(row, "name"),
    soak_habit: habitSaid === "warm" || habitSaid === "cold" || habitSaid === "overnight" ? habitSaid : null,
    soak_s: { warm: warm_s, cold: cold_s, overnight: overnight_s },
    inches: inInches.value,
    time_zone: zone.value,
    zones: zones.includes(zone.value) ? zones : [zone.value, ...zones],
    currency: text(row, "currency"),
    currencies: known("currency"),
    grind_one: num(row, "grind_one"),
    grind_box: num(row, "grind_box"),
    grind_box_of: num(row, "grind_box_of") ?? USUAL_BOX,
    stages: [...said, ...STAGES.filter((stage) => !said.includes(stage))],
  };
}

function soakTimes(): { warm_s: number; cold_s: number; overnight_s: number } {
  const row = logbook.row("workshop", WORKSHOP);
  return {
    warm_s: num(row, "soak_warm_s") ?? PRACTICE_S.warm,
    cold_s: num(row, "soak_cold_s") ?? PRACTICE_S.cold,
    overnight_s: num(row, "soak_overnight_s") ?? PRACTICE_S.overnight,
  };
}
