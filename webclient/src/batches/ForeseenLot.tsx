/** What do the records say of this lot: how much came out good, how long it soaks? Stands on the lot's own page. */
import { slip } from "../logbook/slips";
import { go } from "../route";
import { Scribed } from "../workshop";
import { countsOf } from "./foreseen_rules";
import * as words from "./foreseen_words";

export function ForeseenLot(p: { lot: string }) {
  const body = slip("yields", p.lot)?.body;
  const { good, tried } = countsOf(body, "profiled");
  const [low, high] = Array.isArray(body?.["share"]) ? body["share"] : [];
  return (
    <>
      {tried > 0 && typeof low === "number" && typeof high === "number" && (
        <Scribed
          wide
          label={words.comesOut}
          sub={words.answer(good, tried, low, high)}
          onTake={() => go("evidence", "yields", p.lot)}
        />
      )}
      {(slip("soak", p.lot)?.observations ?? 0) > 0 && (
        <Scribed wide label={words.soaks} onTake={() => go("evidence", "soak", p.lot)} />
      )}
    </>
  );
}
