/** What is foreseen, and on which screens does it stand? One name a slot; loaded once the first screen is there. */
import { ForeseenStart } from "../batches/ForeseenStart";
import { keepSlips } from "../exchange/slips";
import { type Foreseen, foreseen } from "../workshop/foreseen_slot";

/** Each takes the facts that its slot gives it. */
const shown = {
  start: ForeseenStart,
};

const told = {};

export function foresee(): void {
  foreseen.value = { shown, told } as unknown as Foreseen; // the slot's name says which facts it gives
  void keepSlips();
}
