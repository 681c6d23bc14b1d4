/** The blade change's place; and, where two phones each fitted one, the question which it is. */
import { BladeChange, type ChangeDoes } from "../blades/BladeChange";
import { laterFitting, type TwoBlades } from "../blades/rules";
import { fitBlade, newBlade, sayWhich, takeOut } from "../blades/state";
import * as words from "../blades/words";
import { nowText } from "../clock";
import { HousedBlade } from "../drawings/Blades";
import { clockTime, day } from "../language/format";
import { instantIn } from "../language/rules";
import { go, route } from "../route";
import { FirstMachine } from "../set_up/FirstMachine";
import { Question } from "../workshop";
import { benchFacts, machines, pickedMachine } from "./bench_facts";
import { bladeThen, changeFacts, twoBladesAsked } from "./blade_change_facts";
import { labelOf, moves, zone } from "./care_facts";

export default function BladeChangePage() {
  const { rest, query } = route.value;
  const asked = twoBladesAsked().find((two) => two.machine === rest[0]);
  if (rest[1] === "two" && asked) return <WhichBlade two={asked} />;
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

function WhichBlade(p: { two: TwoBlades }) {
  const { two } = p;
  const leave = (): void => go("today");
  const sides = [two.earlier, two.later].map((move) => {
    const label = labelOf(move.blade) ?? "?";
    return {
      label: words.blade(label),
      sub: words.two_at(`${day(move.at)}, ${clockTime(move.at)}`),
      drawing: <HousedBlade label={label} kept="fitted" />,
      onTake: () => {
        sayWhich(two, move.blade);
        leave();
      },
    };
  });
  const machine = machines.value.find((each) => each.id === two.machine)?.name ?? "";
  return (
    <Question
      title={words.two_title}
      sub={words.two_sub(machine)}
      sides={sides}
      meanwhile={words.two_meanwhile(labelOf(two.later.blade) ?? "?")}
      next={{ label: words.two_later, sub: words.two_later_sub, onTake: leave }}
    />
  );
}
