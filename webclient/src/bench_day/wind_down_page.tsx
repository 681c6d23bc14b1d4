/** The wind down. Joins the session with the soaks, the blade and the oil that is due. */
import { nowText } from "../clock";
import type { Edit } from "../logbook/model";
import { logbook, newId } from "../logbook/state";
import { closing } from "../profiling/session_orders";
import { WindDown } from "../profiling/WindDown";
import { go } from "../route";
import { inTheWater } from "../soak/rules";
import { soaks } from "../soak/state";
import { bench, bladeIn, pickedBatch, pickedMachine } from "./bench_facts";
import { dues, isOilDue } from "./care_facts";
import { questions } from "./questions";
import "../profiling/screen.css";

export default function WindDownPage() {
  const on = bench();
  const { session } = on;
  const machine = session?.machine ?? null;
  const left = inTheWater(soaks.value)
    .filter((soak) => soak.purpose === "profile")
    .reduce((sum, soak) => sum + (soak.pieces ?? 0), 0);
  return (
    <WindDown
      on={on}
      inWater={left}
      edgePieces={machine ? (bladeIn(machine)?.pieces ?? null) : null}
      oilDue={isOilDue(machine)}
      asking={questions.value}
      onClose={(wind) => {
        const edits: Edit[] = session ? [closing(session, wind)] : [];
        if (wind.ticks["oiled"])
          for (const due of dues
            .peek()
            .filter((one) => one.is_due && one.task.what === "oil" && one.task.machine === machine))
            edits.push({
              kind: "care_done",
              record: newId(),
              set: { task: due.task.id, at: nowText(), what: "done" },
            });
        logbook.write(edits);
        pickedBatch.value = null;
        pickedMachine.value = null;
        go("today");
      }}
    />
  );
}
