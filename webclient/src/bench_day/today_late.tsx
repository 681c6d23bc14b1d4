/** What Today shows a moment after the answer: questions, care, first fields. Kept out of the first script on purpose. */
import { dayOf } from "../language/format";
import { logbook } from "../logbook/state";
import { route } from "../route";
import { ForeseenSlot } from "../workshop/foreseen_slot";
import { FirstAskNow, putOff } from "./first_asks";
import { ofPhones } from "./other_phones";
import { CareDue } from "./today_care";
import { underWay } from "./today_facts";
import { askedAt, ExchangeQuestion, OpenQuestions } from "./today_questions";
import { firstAsk } from "./today_rules";

export { askedAt, ExchangeQuestion, underWay };

export function Late(p: { now: number; isInWater: boolean; isOut: boolean }) {
  const ask = firstAsk({
    lots: logbook.rows("lot").length,
    machines: logbook.rows("machine").length,
    blades: logbook.rows("blade").length,
    isInWater: p.isInWater,
    isAtBench: p.isOut || underWay.value !== null,
    later: putOff(dayOf(p.now)),
  });
  const others = ofPhones.value;
  return (
    <>
      {ask && <FirstAskNow key={ask} what={ask} now={p.now} />}
      {others && <others.NotLetIn />}
      <OpenQuestions />
      {others && <others.AtMachines />}
      <ForeseenSlot of="going_off" with={{}} />
      <CareDue />
    </>
  );
}

/** The question whose id stands in the address; null: none, or it is settled. */
export function AskedInFull() {
  const asked = askedAt(route.value.rest[0]);
  return asked === null ? null : <ExchangeQuestion key={asked.id} asked={asked} />;
}
