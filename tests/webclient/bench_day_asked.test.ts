import { expect, test } from "vitest";
import { exchangeAsks } from "src/bench_day/today_asked";
import { logbook } from "src/logbook/state";

test("a piece in two phones' hands is asked about by its outcomes, not by the clocks; what a person wrote is", () => {
  const lost = (id: string, record_kind: string, fields: string[]) => logbook.ask({ id, kind: "lost", facts: { record_kind, record: "r", mine: {}, fields } });
  lost("clock", "piece", ["at", "began"]);
  lost("seen", "piece", ["at", "seen"]);
  lost("soak", "soak", ["at"]);
  expect(exchangeAsks.value.map(({ id }) => id)).toEqual(["seen", "soak"]);
});
