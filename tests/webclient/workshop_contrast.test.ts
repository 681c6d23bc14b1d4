import { expect, test } from "vitest";
import sheet from "../../webclient/src/look/tokens.css?raw";


function block(selector: string): Record<string, string> {
  const from = sheet.indexOf(`${selector} {`);
  expect(from, selector).toBeGreaterThan(-1);
  const body = sheet.slice(from, sheet.indexOf("}", from));
  return Object.fromEntries([...body.matchAll(/--([a-z-]+):\s*([^;]+);/g)].map(([, name, value]) => [name, value]));
}

const day = block(":root");
const night = { ...day, ...block(':root[data-look="night"]') };
const followed = { ...day, ...block(':root:not([data-look="day"]):not([data-look="night"])') };

/** WCAG 2.2, relative luminance: https://www.w3.org/TR/WCAG22/#dfn-relative-luminance */
function luminance(hex: string): number {
  const [r = 0, g = 0, b = 0] = [1, 3, 5].map((at) => {
    const part = Number.parseInt(hex.slice(at, at + 2), 16) / 255;
    return part <= 0.04045 ? part / 12.92 : ((part + 0.055) / 1.055) ** 2.4;
  });
  return 0.2126 * r + 0.7152 * g + 0.0722 * b;
}

/** WCAG 2.2, contrast ratio: https://www.w3.org/TR/WCAG22/#dfn-contrast-ratio */
function ratio(one: string, other: string): number {
  const [dark = 0, light = 0] = [luminance(one), luminance(other)].sort((a, b) => a - b);
  return (light + 0.05) / (dark + 0.05);
}

/** Words, and what they stand on in the style sheets and the drawings. */
const words: [string, string][] = [
  ...["wall", "paper", "card", "card-open", "slip-wall", "water", "water-deep", "wood", "wood-open", "brass", "screw", "steel-dark"].map(
    (on): [string, string] => ["ink", on],
  ),
  ["pencil", "wall"],
  ["pencil", "paper"],
  ["red", "wall"],
  ["red", "paper"],
  ["dark-red", "card"],
  ["dark-red", "card-open"],
  ["dark-red", "screw"],
  ["light", "bench"],
  ["light", "floor"],
  ["next", "bench"],
  ["line", "bark"],
  ["line", "steel-light"],
];

/** Lines that a shape needs to be seen by, and what they stand beside. */
const lines: [string, string][] = [
  ...["wall", "paper", "card", "bed", "steel", "steel-dark", "wood", "water", "water-deep", "screw"].map((on): [string, string] => ["outline", on]),
  ...["bark", "bark-wet", "pared"].map((on): [string, string] => ["line", on]),
  ["red", "wood"],
  ["bench-line", "bench"],
  ["next-line", "bench"],
  ["bark-line", "wall"],
  ["window", "blade"],
  ["rule-marks", "rule"],
  ["ink", "wall"],
];

for (const [name, tokens] of Object.entries({ day, night })) {
  test(`by ${name} every word has 4.5 to 1 on what it stands on`, () => {
    for (const [ink, on] of words) {
      expect(ratio(tokens[ink] ?? "", tokens[on] ?? ""), `${ink} on ${on}`).toBeGreaterThanOrEqual(4.5);
    }
  });

  test(`by ${name} every line that makes a shape has 3 to 1 beside it`, () => {
    for (const [ink, on] of lines) {
      expect(ratio(tokens[ink] ?? "", tokens[on] ?? ""), `${ink} on ${on}`).toBeGreaterThanOrEqual(3);
    }
  });
}

test("the formula gives the standard's ends: 21 for black on white, 1 for a colour on itself", () => {
  expect(ratio("#000000", "#ffffff")).toBeCloseTo(21, 5); // WCAG 2.2: contrast ratios range from 1 to 21
  expect(ratio("#8c2113", "#8c2113")).toBe(1);
});

test("the night that follows the phone is the night that is chosen", () => {
  expect(followed).toEqual(night);
});
