/** What is foreseen, and on which screens does it stand? One name a slot; loaded once the first screen is there. */
import { ForeseenLot } from "../batches/ForeseenLot";
import { ForeseenStart } from "../batches/ForeseenStart";
import { keepSlips } from "../exchange/slips";
import { ForeseenScrew } from "../set_up/ForeseenScrew";
import { ForeseenJars } from "../soak/ForeseenJars";
import { ForeseenPutIn } from "../soak/ForeseenPutIn";
import { type Foreseen, foreseen } from "../workshop/foreseen_slot";
import { DueHere } from "./foreseen_due";
import { EdgeHere, GrindingHere } from "./foreseen_edges";
import { BenchForeseen, GoingOffHere, linesAtBench } from "./foreseen_pace";
import { duesOnQuietDays } from "./foreseen_quiet";
import { MeasureDoor } from "./foreseen_reading";
import { cutAtBench, paceAtBench } from "./foreseen_soak";

/** Each takes the facts that its slot gives it. */
const shown = {
  start: ForeseenStart,
  lot: ForeseenLot,
  edge: EdgeHere,
  grinding: GrindingHere,
  due: DueHere,
  screw: ForeseenScrew,
  measure: MeasureDoor,
  put_in: ForeseenPutIn,
  jars: ForeseenJars,
  going_off: GoingOffHere,
  at_bench: BenchForeseen,
};

const told = { pace: paceAtBench, cut: cutAtBench, bench: linesAtBench, dues: duesOnQuietDays };

export function foresee(): void {
  foreseen.value = { shown, told } as unknown as Foreseen; // the slot's name says which facts it gives
  void keepSlips();
}
