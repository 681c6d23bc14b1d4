import { describe, expect, it } from "vitest";
import type { CareDone, CareTask } from "src/care/model";
import { boxOf, type CareFacts, dueOf, historyOf, inOrder, PRESETS } from "src/care/rules";
import { addDays, dayIn, daysBetween, instantIn, noonOf } from "src/language/rules";
import days from "../shared_cases/days.json";

describe("calendar days by the IANA zone data", () => {
  // tests/shared_cases/days.json names its source
  it.each(days.zones.map((each) => [each.zone, each.days] as const))("%s: every day begins, has its noon and ends when the zone says", (zone, its) => {
    expect(its.length).toBeGreaterThan(0);
    for (const [day = "", first = "", noon = "", last = ""] of its) {
      expect([day, dayIn(zone, first), dayIn(zone, last)]).toEqual([day, day, day]);
      expect(dayIn(zone, Date.parse(first) - 1)).toBe(addDays(day, -1));
      expect(noonOf(day, zone)).toBe(noon);
    }
  });

  it("a week over the change to summer time is seven days", () => {
    expect(addDays("2026-03-25", 7)).toBe("2026-04-01");
    expect(daysBetween("2026-03-25", "2026-04-01")).toBe(7);
  });

  it("goes over a month's end, a year's end and a leap day", () => {
    expect(addDays("2026-12-31", 1)).toBe("2027-01-01");
    expect(addDays("2028-02-28", 1)).toBe("2028-02-29");
    expect(addDays("2026-03-01", -1)).toBe("2026-02-28");
  });
});

const task = (more: Partial<CareTask> = {}): CareTask => ({
  id: "t", what: "oil", words: null, machine: "m1", tool: null, every_pieces: null, every_sessions: null, every_days: null,
  since: "2026-11-01T09:00:00.000Z", note: null, ...more,
});
const done = (id: string, at: string, more: Partial<CareDone> = {}): CareDone => ({ id, task: "t", at, what: "done", until_day: null, note: null, ...more });
const facts = (more: Partial<CareFacts> = {}): CareFacts => ({ dones: [], work: [], sessions: [], today: "2026-11-25", zone: "Europe/Berlin", ...more });

describe("what is due first", () => {
  const three = task({ every_pieces: 90, every_sessions: 5, every_days: 28 });

  it("is the count that is over", () => {
    expect(dueOf(three, facts({ work: [{ at: "2026-11-20T12:00:00.000Z", pieces: 90 }] }))).toMatchObject({ is_due: true, by: "pieces" });
    const sessions = Array.from({ length: 5 }, (_, k) => `2026-11-1${k}T12:00:00.000Z`);
    expect(dueOf(three, facts({ sessions }))).toMatchObject({ is_due: true, by: "sessions" });
  });

  it("is the day where the pace reaches it before the pieces", () => {
    // 28 pieces in 28 days: 62 left at one a day are later than 29 November
    const due = dueOf(three, facts({ work: [{ at: "2026-11-20T12:00:00.000Z", pieces: 28 }] }));
    expect(due).toMatchObject({ is_due: false, by: "days", roughly_day: "2026-11-29" });
  });

  it("is the pieces where the pace reaches them before the day", () => {
    const due = dueOf(three, facts({ work: [{ at: "2026-11-20T12:00:00.000Z", pieces: 84 }] }));
    expect(due).toMatchObject({ is_due: false, by: "pieces", roughly_day: "2026-11-27" });
  });
});

it("due tasks stand first, then by the day, those without any last", () => {
  const at = (id: string, every_days: number | null): ReturnType<typeof dueOf> => dueOf(task({ id, every_days }), facts());
  expect(inOrder([at("none", null), at("later", 60), at("soon", 30), at("due", 10)]).map((due) => due.task.id)).toEqual(["due", "soon", "later", "none"]);
});

it("history has the newest first and no other task's", () => {
  const all = [done("a", "2026-11-02T09:00:00.000Z"), done("b", "2026-11-09T09:00:00.000Z"), done("c", "2026-11-10T09:00:00.000Z", { task: "x" })];
  expect(historyOf("t", all).map((each) => each.id)).toEqual(["b", "a"]);
});

describe("the box for the grinder", () => {
  const cost = { one: 9, box: 27, box_of: 5 };

  it("is full at five, and says what it saves", () => {
    expect(boxOf(5, cost)).toEqual({ waiting: 5, is_full: true, missing: 0, saved: 18 });
  });

  it("says how many are missing, and no saving yet", () => {
    expect(boxOf(3, cost)).toEqual({ waiting: 3, is_full: false, missing: 2, saved: null });
  });

  it("says no saving where the maker gave no price, or none is saved", () => {
    expect(boxOf(5, { ...cost, one: null }).saved).toBeNull();
    expect(boxOf(5, { ...cost, box: 45 }).saved).toBeNull();
  });
});

it("every preset is due by something", () => {
  for (const each of PRESETS) expect(each.every_pieces ?? each.every_sessions ?? each.every_days).toBeGreaterThan(0);
});

describe("a day and a time that somebody typed", () => {
  it("are an instant of the workshop's zone, summer and winter", () => {
    expect(instantIn("Europe/Berlin", "2026-07-01", "18:30")).toBe("2026-07-01T16:30:00.000Z");
    expect(instantIn("Europe/Berlin", "2026-11-24", "16:10")).toBe("2026-11-24T15:10:00.000Z");
  });

  it("in the hour that the clocks leave out, stand within an hour of it", () => {
    // Europe/Berlin, 29 March 2026: clocks go from 02:00 to 03:00 at 01:00 UTC (IANA zone data)
    const ms = Date.parse(instantIn("Europe/Berlin", "2026-03-29", "02:30"));
    expect(Math.abs(ms - Date.parse("2026-03-29T01:00:00.000Z"))).toBeLessThanOrEqual(3_600_000);
  });
});
