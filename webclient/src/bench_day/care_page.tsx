/** Care's place: what is due, the blades, one task, one blade. */

import { BladeOpened } from "../blades/BladeOpened";
import { BladeShelf, type ShelfBlade } from "../blades/BladeShelf";
import { waitingToBeGround } from "../blades/rules";
import { backGround, send } from "../blades/state";
import * as blade_words from "../blades/words";
import { Care } from "../care/Care";
import { CareTaskOpened } from "../care/CareTaskOpened";
import { boxOf, historyOf, USUAL_BOX } from "../care/rules";
import { Presets, TaskWritten } from "../care/TaskWritten";
import * as words from "../care/words";
import { day } from "../language/format";
import { WORKSHOP } from "../logbook/ids";
import { num } from "../logbook/read";
import { logbook } from "../logbook/state";
import { go, route } from "../route";
import { BOW_AFTER_PIECES } from "../set_up/model";
import { allBatches } from "./batches_facts";
import { bladeIn, machines, profilers } from "./bench_facts";
import { blades, currency, dones, dues, moves, piecesOn, tasks, timeline, today } from "./care_facts";
import { dueName, machineName } from "./care_names";
import { openingOf } from "./later_orders";

function shelf(): ShelfBlade[] {
  const usual = profilers.value[0]?.bow_after_pieces ?? BOW_AFTER_PIECES;
  const boxed = new Set(waitingToBeGround(timeline.value, piecesOn, usual));
  return blades.value
    .map((blade): ShelfBlade & { retired: boolean } => {
      const stands = timeline.value.blades.get(blade.id);
      const place = stands?.place ?? "new";
      return {
        id: blade.id,
        label: blade.label,
        place: place === "retired" ? "ready" : place,
        boxed: boxed.has(blade.id),
        pieces: stands?.used === false ? 0 : piecesOn(blade.id),
        where:
          place === "in_use"
            ? machineName(stands?.machine ?? null)
            : place === "away" && stands?.since
              ? blade_words.since(day(stands.since))
              : null,
        retired: place === "retired",
      };
    })
    .filter((blade) => !blade.retired)
    .sort((a, b) => rank(a) - rank(b) || a.label.localeCompare(b.label, undefined, { numeric: true }));
}

const rank = (blade: ShelfBlade): number => ({ in_use: 0, ready: 1, new: 1, away: 2 })[blade.place];

export default function CarePage() {
  const [part, id] = route.value.rest;
  const due = dues.value.find((each) => each.task.id === id);
  if (part === "task" && due)
    return (
      <CareTaskOpened
        due={due}
        name={dueName(due)}
        today={today.value}
        history={historyOf(due.task.id, dones.value)}
      />
    );
  if (part === "new")
    return <Presets machines={profilers.value} tasks={tasks.value} onOwn={() => go("care", "own")} />;
  if (part === "own") return <TaskWritten machines={machines.value} task={null} />;
  if (part === "change" && due)
    return <TaskWritten key={due.task.id} machines={machines.value} task={due.task} />;
  const all = shelf();
  const blade = part === "blade" ? all.find((each) => each.id === id) : undefined;
  if (blade) {
    const stands = timeline.value.blades.get(blade.id);
    const own = moves.value
      .filter((move) => move.blade === blade.id)
      .sort((a, b) => (a.at < b.at ? 1 : a.at > b.at ? -1 : a.id < b.id ? 1 : -1));
    return (
      <BladeOpened
        key={blade.id}
        facts={{
          blade,
          life: stands?.life ?? 0,
          machine: stands?.machine ?? null,
          moves: own,
          machineName,
          fitTo: profilers.value[0]?.id ?? null,
          opening: openingOf(blade.id),
        }}
      />
    );
  }
  return <CareNow all={all} />;
}

function CareNow(p: { all: ShelfBlade[] }) {
  const workshop = logbook.row("workshop", WORKSHOP);
  const boxed = p.all.filter((blade) => blade.boxed);
  const cost = {
    one: num(workshop, "grind_one"),
    box: num(workshop, "grind_box"),
    box_of: num(workshop, "grind_box_of") ?? USUAL_BOX,
  };
  const box = boxOf(boxed.length, cost);
  const worn =
    profilers.value
      .map((machine) => ({ blade: bladeIn(machine.id), bow: machine.bow_after_pieces }))
      .find(({ blade, bow }) => blade !== null && blade.pieces >= bow)?.blade ?? null;
  const planned = allBatches.value
    .filter(
      (one) => !one.batch.closed && one.batch.plannedDay !== null && one.batch.plannedDay >= today.value,
    )
    .reduce((sum, one) => sum + Number(one.batch.pieces && one.left), 0);
  const boxWords = {
    label: box.is_full
      ? words.box_label
      : [words.box_label, words.box_missing(box.missing, cost.box_of)].join("; "),
    sub: words.box_sub,
  };
  return (
    <Care
      facts={{
        today: today.value,
        currency: currency.value,
        dues: dues.value,
        nameOf: dueName,
        box,
        boxed: boxed.map((blade) => blade.label),
        staying: p.all.filter((blade) => !blade.boxed && blade.place !== "away").length,
        planned,
        bow: worn,
        onSend: () => send(boxed.map((blade) => blade.id)),
        blades: (
          <BladeShelf blades={p.all} boxWords={boxWords} machines={profilers.value} onBack={backGround} />
        ),
      }}
    />
  );
}
