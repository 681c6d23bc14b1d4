import { afterEach, expect, test } from "vitest";
import { locale } from "../../webclient/src/language/format";
import { inInches, length, lengthFigure, lengthSteps, readLength } from "../../webclient/src/language/length";

const as = (where: string, inches: boolean): void => {
  locale.value = where;
  inInches.value = inches;
};
afterEach(() => as("en-GB", false));

test("millimetres stand as they are written, in the locale's own way", () => {
  as("de-DE", false);
  expect(length(1.28)).toBe("1,28 mm");
  expect(lengthFigure(0.05, 2)).toBe("0,05");
  expect(readLength("1,28")).toBe(1.28);
});

// An inch is 25.4 mm exactly (international yard and pound agreement, 1959; value from memory).
test("in inches a length stands in tenths of a thousandth, and what is typed comes back as millimetres", () => {
  as("en-US", true);
  expect(length(25.4)).toBe("1.0000 in");
  expect(length(1.27)).toBe("0.0500 in");
  expect(readLength("0.05")).toBe(1.27);
  expect(readLength("two")).toBeNull();
});

test("a step of the screen is half a thousandth of an inch, or a hundredth of a millimetre", () => {
  as("en-US", true);
  const { shown, step, unit } = lengthSteps();
  expect([shown(1.27), shown(1.27 + step), unit]).toEqual(["0.0500", "0.0505", "in"]);
  as("en-US", false);
  expect(lengthSteps().step).toBe(0.01);
});
