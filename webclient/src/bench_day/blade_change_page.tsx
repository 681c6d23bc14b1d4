/** The blade change's place. */
import { BladeChange, type ChangeDoes } from "../blades/BladeChange";
import { laterFitting } from "../blades/rules";
import { fitBlade, newBlade, takeOut } from "../blades/state";
import { nowText } from "../clock";
import { instantIn } from "../language/rules";
import { go, route } from "../route";
import { FirstMachine } from "../set_up/FirstMachine";
import { benchFacts, machines, pickedMachine } from "./bench_facts";
import { bladeThen, changeFacts } from "./blade_change_facts";
import { moves, zone } from "./care_facts";

export default function BladeChangePage() {
  const { rest, query } = route.value;
  const machine = machines.value.find((each) => each.id === (rest[0] ?? benchFacts.value.machine?.id));
  if (machine === undefined)
    return (
      <FirstMachine
        onKept={(id) => {
          pickedMachine.value = id;
          go("blade-change", id);
        }}
        onLater={() => go("today")}
      />
    );
  const facts = changeFacts(machine, query["blade"] ?? null);
  const does: ChangeDoes = {
    onFit: (blade, when) => {
      const at = when === "now" ? { at: nowText(), inside: null } : when;
      const out = when === "now" ? (facts.out?.id ?? null) : bladeThen(machine.id, at.at);
      fitBlade(machine.id, blade, out, at, laterFitting(moves.value, machine.id, at.at, out));
      if (when === "now") go("set-up", { machine: machine.id });
      else go("care");
    },
    onNewBlade: newBlade,
    onTakeOut: () => {
      if (facts.out) takeOut(facts.out.id, machine.id);
      go("care");
    },
    onLeave: () => (history.length > 1 ? history.back() : go("care")),
    instantOf: (on, clock) =>
      /^\d{4}-\d\d-\d\d$/.test(on) && /^\d\d:\d\d/.test(clock)
        ? instantIn(zone.value, on, clock.slice(0, 5))
        : null,
  };
  return <BladeChange key={machine.id} facts={facts} does={does} />;
}
