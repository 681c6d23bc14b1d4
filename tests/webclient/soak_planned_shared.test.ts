import { expect, test } from "vitest";
import type { Row, Value } from "../../webclient/src/logbook/model";
import { readHabit, type Water } from "../../webclient/src/soak/model";
import { planned } from "../../webclient/src/soak/rules";
import table from "../shared_cases/soak_planned.json";

function workshop(said: Record<string, Value>): Row {
  const field = (value: Value) => ({ value, change: "c", seq: 1, when: "2026-11-20T12:00:00.000Z", back: false, saw: null });
  return { kind: "workshop", id: "w", fields: Object.fromEntries(Object.entries(said).map(([name, value]) => [name, field(value)])) };
}

test.each(table.cases as unknown as { name: string; water: Water; workshop: Record<string, Value>; soak_s: number }[])("$name", (each) => {
  expect(planned(each.water, readHabit(workshop(each.workshop))).soak_s).toBe(each.soak_s);
});
