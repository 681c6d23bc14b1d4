import { afterEach, beforeAll, expect, test } from "vitest";
import { foreseen } from "../../webclient/src/workshop/foreseen_slot";
import { locale, timeZone } from "../../webclient/src/language/format";
import type { Values } from "../../webclient/src/logbook/model";
import { showSlips } from "../../webclient/src/logbook/slips";
import { ForeseenJars } from "../../webclient/src/soak/ForeseenJars";
import { said } from "../../webclient/src/soak/ForeseenPutIn";
import { colder_c, nextAt, type RowUnderWay, replanned } from "../../webclient/src/soak/foreseen_row_rules";
import { jarsOf, paceFor, toldFor } from "../../webclient/src/soak/foreseen_state";
import { chartMarks, paceOf, toldOf, windowOf } from "../../webclient/src/soak/foreseen_told_rules";
import * as words from "../../webclient/src/soak/foreseen_words";
import type { Soak } from "../../webclient/src/soak/model";
import { standingOf } from "../../webclient/src/soak/standing";
import soakCases from "../shared_cases/foreseen_soak.json";
import { elements } from "./drawn";

beforeAll(() => {
  locale.value = "en-GB";
  timeZone.value = "Europe/Berlin";
});
afterEach(() => {
  showSlips([]);
  foreseen.value = null;
});

const bodyOf = (name: string): Values =>
  soakCases.cases.find((one) => one.name.startsWith(name))?.body as unknown as Values;
const counted = (body: Values, marks: Values, wanting: number, warm: number): Values => ({
  ...body,
  marks,
  wanting,
  waters: { warm },
});
const CLOSED = counted(bodyOf("warm, closed"), { good: 12, still_hard: 3, too_soft: 2 }, 0, 17);
const GOOD = counted(bodyOf("good alone"), { good: 16 }, 0, 16);
const FEW = counted(bodyOf("a hard lot"), { good: 3, still_hard: 2 }, 3, 5);

const told = (body: Values, subject = "lot", water = "warm", c = 38) => {
  const found = toldOf([{ subject, body }], water, c, 20, null);
  if (found === null) throw new Error("nothing is told");
  return found;
};

test("a lot found hard, good and soft is told with the range of each, 9 times in 10", () => {
  expect(said(told(CLOSED), "warm", "C")).toBe(
    "Ready after 16 to 29 min, 9 times in 10. Best after about 29 min. Too soft after 32 min to 1 h 6 min, 9 times in 10.",
  );
});

test("where nobody tried earlier no early end is claimed, and no too soft without a mark of it", () => {
  const line = said(told(GOOD), "warm", "C");
  expect(line).toContain("Ready after 27 min at most, 19 times in 20.");
  expect(line).not.toContain("oo soft");
});

test("few marks say first of all that it is a guess, and last how many more are wanting", () => {
  expect(said(told(FEW), "warm", "A")).toMatch(/^A first guess, from 5 marks of lot A: Ready after .* 3 more marks and I can say\.$/);
  expect(said(told(CLOSED), "warm", "A")).not.toContain("guess");
});

test("water that was never used is told as worked out from the others", () => {
  expect(said(told(CLOSED, "lot", "cold", 12), "cold", "C")).toContain("No mark of yours in cold water");
});

test("only a lot's own marks in this very water stand in place of the habit", () => {
  expect(told(CLOSED).fill_s).toBe(1740);
  expect(told(CLOSED, "all").fill_s).toBeNull();
  expect(told(FEW).fill_s).toBeNull();
  expect(told(CLOSED, "lot", "cold", 12).fill_s).toBeNull();
});

test("a lot without marks goes by those of all lots, and without any there is only the habit", () => {
  showSlips([{ kind: "soak", subject: "all", body: CLOSED }]);
  expect(toldFor("new", "warm", 38)?.subject).toBe("all");
  showSlips([{ kind: "soak", subject: "all", body: counted(bodyOf("no marks"), {}, 8, 0) }]);
  expect(toldFor("new", "warm", 38)).toBeNull();
});

test("a staggered row keeps between ready and the maker's own too soft, or twice the time where there is none", () => {
  const own = windowOf(told(CLOSED), 1800);
  expect(own.ready_s).toBeLessThanOrEqual(1740);
  expect(own.too_soft_s).toBeCloseTo(told(CLOSED).foreseen.too_soft_s ?? 0);
  expect(windowOf(null, 1800)).toEqual({ ready_s: 1800, too_soft_s: 3600 });
  expect(windowOf(told(FEW), 1800).ready_s).toBe(1800);
});

test("a pace needs three pieces and is surer the more alike they are", () => {
  expect(paceOf([3, 3])).toBeNull();
  const even = paceOf([3, 3, 3]);
  expect(even?.usual_s).toBeCloseTo(180);
  expect(even?.quick_s).toBeCloseTo(180);
  const odd = paceOf([2, 3, 4.5]);
  expect((odd?.slow_s ?? 0) / (odd?.quick_s ?? 1)).toBeGreaterThan(1.2);
  expect(odd?.usual_s).toBeCloseTo(180);
});

test("the pace is asked of the bench, and there is none before its script is there", () => {
  expect(paceFor("lot", null)).toBeNull();
  foreseen.value = { shown: {}, told: { pace: () => ({ usual_s: 180, quick_s: 170, slow_s: 190 }) } };
  expect(paceFor("lot", null)?.usual_s).toBe(180);
});

const SOAK: Soak = {
  id: "s1",
  purpose: "profile",
  pieces: 6,
  batch: null,
  lot: "c",
  jar: "3",
  water: "warm",
  water_c: 38,
  soak_s: 1800,
  put_in: "2026-11-25T13:00:00.000Z",
  put_in_skew_ms: null,
  taken_out: null,
  taken_out_skew_ms: null,
  mark: null,
  drying_since: null,
  dried_at: null,
  silenced_at: null,
  rings_again_at: null,
  next_silenced_at: null,
  next_rings_again_at: null,
  run: null,
  of_pieces: null,
  every_s: null,
  note: null,
};
const NOW = Date.parse("2026-11-25T13:10:00.000Z");
const HABIT = { water: null, warm_s: 1800, cold_s: null, overnight_s: null };
const jar = (more: Partial<Soak> = {}) => standingOf({ ...SOAK, ...more }, [SOAK], NOW, HABIT, "C");

const textOf = (node: unknown): string =>
  elements(node)
    .filter(({ type }) => type === "p")
    .flatMap(({ props }) => [props["children"]].flat(9))
    .join(" ");

test("a jar tells by the clock when it is ready, best and too soft, and what that rests on", () => {
  showSlips([{ kind: "soak", subject: "c", body: CLOSED }]);
  const text = textOf(<ForeseenJars jars={[jar()]} />);
  expect(text).toContain(
    "6 of lot C: ready 14:16 to 14:28, 9 times in 10; best about 14:28; too soft 14:32 to 15:06, 9 times in 10.",
  );
  expect(text).toContain("From 17 marks of lot C.");
});

test("a jar tells nothing of cane that is soaked for another purpose, nor without marks", () => {
  showSlips([{ kind: "soak", subject: "c", body: CLOSED }]);
  expect(textOf(<ForeseenJars jars={[jar({ purpose: "form" })]} />)).toBe("");
  showSlips([]);
  expect(textOf(<ForeseenJars jars={[jar()]} />)).toBe("");
});

test("cane in the air is told when it is dry enough, and whose word that is", () => {
  const drying = [jar({ drying_since: "2026-11-25T13:00:00.000Z" })];
  const dry = (observations: number): string => {
    showSlips([{ kind: "soak", subject: "all", body: { dry: { lower_s: 600, upper_s: 1800, observations } } }]);
    return textOf(<ForeseenJars jars={[]} drying={drying} />);
  };
  expect(dry(4)).toBe("6 of lot C: dry enough 14:10 to 14:30, 9 times in 10; from 4 times that you said so.");
  expect(dry(0)).toContain("by what a sheet of cane loses");
});

test("there are as many jars as were numbered, two at least", () => {
  expect(jarsOf([])).toBe(2);
  expect(jarsOf([SOAK, { ...SOAK, jar: "the blue one" }])).toBe(3);
});

test("what would make a row possible is named, colder water by its warmth", () => {
  const changes = [
    { what: "smaller_groups" as const, number: 4 },
    { what: "more_jars" as const, number: 3 },
    { what: "colder_water" as const, number: 1.5 },
  ];
  expect(words.would(changes, (times) => Math.round(38 / times))).toContain("four at a time, 3 jars and water of 25 °C.");
  expect(words.would(changes, () => null)).toBe("It would do with four at a time and 3 jars.");
  expect(words.would([{ what: "colder_water", number: 9 }], () => null)).toBe("");
});

test("water is as cold as it must be and no colder; what no water does is not said", () => {
  const best_s = (c: number): number => 38_000 / c;
  expect(colder_c(best_s, 38, 2)).toBe(19);
  expect(colder_c(best_s, 38, 1.01)).toBe(37);
  expect(colder_c(best_s, 38, 40)).toBeNull();
  expect(colder_c(() => null, 38, 2)).toBeNull();
  showSlips([{ kind: "soak", subject: "all", body: CLOSED }]);
  const best = (c: number): number => toldFor("new", "warm", c)?.foreseen.best_s ?? 0;
  const found = colder_c(best, 38, 1.5) ?? 0;
  expect(best(found)).toBeGreaterThanOrEqual(1.5 * best(38));
  expect(best(found + 1)).toBeLessThan(1.5 * best(38));
});

test("two o'clock is today's, or tomorrow's once it is long gone", () => {
  const at = (clock: string): string => new Date(nextAt(clock, NOW, "Europe/Berlin") ?? 0).toISOString();
  expect(at("15:00")).toBe("2026-11-25T14:00:00.000Z");
  expect(at("14:00")).toBe("2026-11-25T13:00:00.000Z");
  expect(at("08:30")).toBe("2026-11-26T07:30:00.000Z");
  expect(nextAt("", NOW, "Europe/Berlin")).toBeNull();
});

test("marks on one minute stand above each other, and other water's where they would be in this", () => {
  const body = { points: [[30, 38, "good", 3], [20, 38, "still_hard", 1], [90, 12, "good", 1]] };
  const marks = chartMarks(body, (time_s, c) => (c === 38 ? time_s : time_s / 3));
  expect(marks.filter(({ mark }) => mark === "good").map(({ minutes }) => minutes)).toEqual([30, 30, 30, 30]);
  expect(new Set(marks.map(({ mark, height }) => `${mark} ${height}`)).size).toBe(5);
});

const MIN = 60_000;
const UNDER_WAY: RowUnderWay = {
  now: 0,
  wet: 12,
  cut: 2,
  isOut: true,
  ready: -6 * MIN,
  last_in: -18 * MIN,
  group: { at: 0, pieces: 6 },
};
const WINDOW = { ready_s: 1800, too_soft_s: 3600 };
const pace = (minutes: number) => ({ usual_s: 60 * minutes, quick_s: 60 * minutes, slow_s: 60 * minutes });

test("at the pace that it was planned for, the next group stays where it is", () => {
  expect(replanned(UNDER_WAY, pace(3), WINDOW)).toMatchObject({ at: 0, isMoved: false, kept: true });
});

test("slower work moves the next group back, quicker work moves a later one forward", () => {
  expect(replanned(UNDER_WAY, pace(4), WINDOW)).toEqual({ at: 10 * MIN, isMoved: true, every_s: 28 * 60, kept: true });
  const later = { ...UNDER_WAY, cut: 0, group: { at: 12 * MIN, pieces: 6 } };
  expect(replanned(later, pace(3), WINDOW)).toMatchObject({ at: 6 * MIN, isMoved: true, every_s: 24 * 60 });
});

test("while nothing is ready yet, the work is taken to begin when the first group is", () => {
  const waiting = { ...UNDER_WAY, wet: 6, cut: 0, isOut: false, ready: 20 * MIN, group: { at: 8 * MIN, pieces: 6 } };
  expect(replanned(waiting, pace(3), WINDOW)).toMatchObject({ at: 8 * MIN, isMoved: false });
});

test("a group that would be too soft before it is wanted is told", () => {
  expect(replanned({ ...UNDER_WAY, cut: 0 }, { usual_s: 300, quick_s: 200, slow_s: 420 }, WINDOW)?.kept).toBe(false);
});

test("more cut than went in: the row says nothing", () => {
  expect(replanned({ ...UNDER_WAY, cut: 13 }, pace(3), WINDOW)).toBeNull();
});
