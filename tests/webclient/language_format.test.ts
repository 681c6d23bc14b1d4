import { expect, test, vi } from "vitest";
import { clockTime, day, dayOf, list, locale, minutes, money, near, number, parseNumber, plural, wait } from "../../webclient/src/language/format";

// Expected strings are what CLDR gives through Node's Intl for these locales; each was read, not copied from a standard.
const london = { locale: "en-GB", timeZone: "Europe/London" };
const berlin = { locale: "de-DE", timeZone: "Europe/Berlin" };
const NOON = "2026-11-25T13:06:00.000Z";

vi.useFakeTimers({ now: Date.parse(NOON), toFake: ["Date"] });

const plain = (text: string): string => text.replace(/[\u00a0\u202f]/g, " ");

test("a number has its locale's point and groups", () => {
  expect(number(4812.5, 1, london)).toBe("4,812.5");
  expect(number(4812.5, 1, berlin)).toBe("4.812,5");
  expect(number(1.28, undefined, berlin)).toBe("1,28");
});

test("a typed number is read with the locale's point, and with the other one too", () => {
  expect(parseNumber("1,28", berlin)).toBe(1.28);
  expect(parseNumber("1.28", berlin)).toBe(1.28);
  expect(parseNumber("1,28", london)).toBe(1.28);
  expect(parseNumber("4,812", london)).toBe(4812);
  expect(parseNumber("4.812,5", berlin)).toBe(4812.5);
});

test("what is no number is none", () => {
  for (const typed of ["", "two", "1.2.3", "12 mm", "--3"]) expect(parseNumber(typed, london)).toBeNull();
});

test("every number that is written can be read back in its locale", () => {
  for (const place of [london, berlin, { locale: "fr-FR" }, { locale: "sv-SE" }]) {
    for (const n of [0, 7, 0.05, 24.5, 1234.5, -0.125]) expect(parseNumber(number(n, undefined, place), place), `${place.locale} ${n}`).toBe(n);
  }
});

test("a moment stands in the workshop's zone", () => {
  expect(clockTime(NOON, london)).toBe("13:06");
  expect(clockTime(NOON, berlin)).toBe("14:06");
  expect(plain(clockTime(NOON, { locale: "en-US", timeZone: "America/New_York" }))).toBe("8:06 AM");
});

test("a day is said with its weekday, in the locale's order", () => {
  expect(day(NOON, london)).toBe("Wed 25 Nov");
  expect(day(NOON, berlin)).toBe("Mi. 25. Nov.");
});

test("a day that is more than half a year away is said with its year", () => {
  expect(["2025-11-26", "2026-06-01", "2027-05-20", "2029-02-13"].map((at) => day(at, london))).toEqual([
    "Wed 26 Nov 2025", "Mon 1 Jun", "Thu 20 May", "Tue 13 Feb 2029",
  ]);
  expect(day(Date.parse("2099-01-01T12:00:00Z"), berlin)).toBe("Do. 1. Jan. 2099");
});

test("a moment that is not near has its day", () => {
  const at = (hours: number): string => near(Date.parse(NOON) + hours * 3_600_000, london);
  expect([0, 12, -19, 48, -48, 24 * 7].map(at)).toEqual(["13:06", "1:06", "18:06", "Fri 13:06", "Mon 13:06", "Wed 2 Dec 13:06"]);
});

test("a calendar day stays that day in every zone", () => {
  for (const timeZone of ["Pacific/Auckland", "America/Los_Angeles", "Pacific/Kiritimati"]) {
    expect(day("2026-11-25", { locale: "en-GB", timeZone })).toBe("Wed 25 Nov");
  }
});

test("near midnight the workshop's zone says which day it is", () => {
  expect(dayOf("2026-11-25T23:30:00.000Z", berlin)).toBe("2026-11-26");
  expect(dayOf("2026-11-25T23:30:00.000Z", london)).toBe("2026-11-25");
});

test("a wait is said in minutes, and in hours from one hour on", () => {
  expect(plain(minutes(16, london))).toBe("16 min");
  expect(wait(16, berlin)).toBe("16 min");
  expect(plain(wait(125, london))).toBe("2 h 5 min");
  expect(wait(59.6, london)).toBe("1 h");
  expect(plain(wait(120, london))).toBe("2 h");
});

test.each(["fr-FR", "ru-RU", "ja-JP", "de-DE"])("on a phone in %s words list and count in their own language", (phones) => {
  locale.value = phones;
  const forms = { one: "piece", other: "pieces" };
  expect([1, 2, 0, 21].map((n) => plural(n, forms))).toEqual(["piece", "pieces", "pieces", "pieces"]);
  expect(list(["projection", "middle stop", "shoulder stop"])).toBe("projection, middle stop and shoulder stop");
  locale.value = undefined;
});

test("money carries the workshop's currency", () => {
  expect(plain(money(18, "EUR", london))).toBe("EUR 18.00");
  expect(plain(money(18, "EUR", berlin))).toBe("18,00 EUR");
});
