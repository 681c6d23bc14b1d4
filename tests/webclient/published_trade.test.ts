import { expect, test } from "vitest";
import * as care from "src/care/words";
import * as bench from "src/profiling/words";
import { SMALLEST_MM, STARTING_MM } from "src/set_up/foreseen_rules";
import { HOTTEST_C, PRACTICE_S, PRESET_C } from "src/soak/rules";
import * as soak from "src/soak/words";
import * as cautions from "src/workshop/caution_words";
import references from "../published/references.json";

/** The range that is published (or told as common practice) under that name. */
function range(name: string): [number, number] {
  const found = references.find((one) => one.name === name)?.expected;
  if (!Array.isArray(found) || typeof found[0] !== "number" || typeof found[1] !== "number") throw new Error(name);
  return [found[0], found[1]];
}

function expectWithin(value: number, name: string): void {
  const [low, high] = range(name);
  expect(value).toBeGreaterThanOrEqual(low);
  expect(value).toBeLessThanOrEqual(high);
}

/** All that a room says, in one text. */
const said = (words: object): string =>
  Object.values(words)
    .filter((one) => typeof one === "string")
    .join("\n");

test("an overnight soak begins with hours that are published", () => {
  expectWithin(PRACTICE_S.overnight / 3600, "soak before profiling, h");
});

test("warm water begins with degrees that are common", () => {
  expectWithin(PRESET_C.warm, "temperature of warm soak water, C");
});

test("the middle begins with a thickness that is common", () => {
  expectWithin(STARTING_MM.middle, "thickness at the tip after profiling by machine, mm");
});

test("next to the shoulder it begins with a thickness that is common", () => {
  expectWithin(STARTING_MM.shoulder, "thickness at the back of the blade near the collar, mm");
});

test("no screw is turned for less than a dial gauge shows", () => {
  expectWithin(SMALLEST_MM, "dial gauge resolution, mm");
});

test("water that scalds is named by its degrees, in figures and in words", () => {
  expect(references.find((one) => one.name === "warm soak water")?.expected).toContain(`${HOTTEST_C} C`);
  expect(soak.hot_order).toContain(`${HOTTEST_C} °C`);
  expect(soak.keep_water).toContain(`${HOTTEST_C} °C`);
});

test("the oil that may meet a mouth is named by its rule", () => {
  expect(cautions.oil_text).toContain("21 CFR 178.3570");
});

test("mould is warned of where water stands", () => {
  expect(soak.mould_text).toMatch(/mould.*lung disease/);
});

test("dust and mouldy cane are warned of", () => {
  expect(said(care)).toMatch(/Cane dust: work wet, a mask/);
});

test("sprays: air and no flame", () => {
  expect(cautions.oil_text).toMatch(/air, no flame/);
});

test("blades: away from skin, housed, dull ones in a rigid box", () => {
  expect(cautions.edge_text).toMatch(/skin.*housed.*rigid box/s);
});

test("the bowl stands lower than the phone, hands are dry at a plug", () => {
  expect(soak.keep_water).toMatch(/lower than phone and charger/);
  expect(said(bench)).toMatch(/Dry hands before you touch a plug/);
});
