import { describe, expect, test } from "vitest";
import type { Soak, SoakHabit } from "../../webclient/src/soak/model";
import {
  asLastTime,
  freeJar,
  groups,
  inTheWater,
  lastRow,
  marksOf,
  nextGroup,
  planned,
  PRACTICE_S,
  putInLooksWrong,
  readyAt,
  stateOf,
  toBeMarked,
  trueNow,
  wetShare,
} from "../../webclient/src/soak/rules";

const HALF_PAST_ONE = Date.parse("2026-11-25T13:30:00.000Z");
const MIN = 60_000;
const no_habit: SoakHabit = { water: null, warm_s: null, cold_s: null, overnight_s: null };
const no_marks = { good_s: null, too_soft_s: null, still_hard_s: null };

let made = 0;
function soak(part: Partial<Soak> & { min?: number; out_min?: number } = {}): Soak {
  made += 1;
  const { min, out_min, ...rest } = part;
  return {
    id: String(made).padStart(4, "0"), purpose: "profile", pieces: 6, batch: null, lot: null, jar: "1", water: "warm",
    water_c: 38, soak_s: 1800, put_in: new Date(HALF_PAST_ONE + (min ?? 0) * MIN).toISOString(), put_in_skew_ms: null,
    taken_out: out_min === undefined ? null : new Date(HALF_PAST_ONE + out_min * MIN).toISOString(), taken_out_skew_ms: null,
    mark: null, drying_since: null, dried_at: null, silenced_at: null, rings_again_at: null, next_silenced_at: null, next_rings_again_at: null, run: null, of_pieces: null, every_s: null, note: null,
    ...rest,
  };
}

describe("when it is ready", () => {
  test("a warm half hour, some hours cold, a night, by common practice", () => {
    // common practice, no source
    expect(planned("warm", no_habit)).toEqual({ soak_s: 1800, by: "practice" });
    expect(PRACTICE_S.cold).toBe(4 * 3600);
    expect(PRACTICE_S.overnight).toBe(10 * 3600);
  });

  test("the maker's own habit wins over practice", () => {
    expect(planned("warm", { ...no_habit, warm_s: 2700 })).toEqual({ soak_s: 2700, by: "habit" });
    expect(planned("room", { ...no_habit, cold_s: 9000 }).soak_s).toBe(9000);
    expect(planned("overnight", { ...no_habit, warm_s: 2700 }).by).toBe("practice");
  });

  test("the end is an instant: going in and the planned time", () => {
    expect(readyAt(soak())).toBe(HALF_PAST_ONE + 30 * MIN);
  });

  test("a day asleep or a dead battery changes nothing: the state comes from the instant", () => {
    expect(stateOf(soak(), HALF_PAST_ONE + 29 * MIN, no_marks)).toBe("in_water");
    expect(stateOf(soak(), HALF_PAST_ONE + 30 * MIN, no_marks)).toBe("ready");
    expect(stateOf(soak(), HALF_PAST_ONE + 24 * 60 * MIN, no_marks)).toBe("ready");
  });

  test("practice never says too soft; the maker's own mark does", () => {
    const marks = { ...no_marks, too_soft_s: 55 * 60 };
    expect(stateOf(soak(), HALF_PAST_ONE + 54 * MIN, marks)).toBe("ready");
    expect(stateOf(soak(), HALF_PAST_ONE + 55 * MIN, marks)).toBe("over");
  });

  test("out is out, and drying is drying", () => {
    expect(stateOf(soak({ out_min: 31 }), HALF_PAST_ONE + 40 * MIN, no_marks)).toBe("out");
    const dries = { out_min: 31, drying_since: "2026-11-25T14:10:00.000Z" };
    expect(stateOf(soak(dries), HALF_PAST_ONE + 50 * MIN, no_marks)).toBe("drying");
    expect(stateOf(soak({ ...dries, dried_at: "2026-11-25T14:20:00.000Z" }), HALF_PAST_ONE + 60 * MIN, no_marks)).toBe("out");
  });

  test("the drawn wetness is the share of the planned time, and stops with taking out", () => {
    expect(wetShare(soak(), HALF_PAST_ONE + 15 * MIN)).toBe(0.5);
    expect(wetShare(soak(), HALF_PAST_ONE + 300 * MIN)).toBe(1);
    expect(wetShare(soak({ out_min: 12 }), HALF_PAST_ONE + 300 * MIN)).toBeCloseTo(0.4);
    expect(wetShare(soak(), HALF_PAST_ONE - 5 * MIN)).toBe(0);
  });
});

describe("a phone whose clock is wrong", () => {
  const two_hours = 120 * MIN;

  test("what it wrote is read with the difference known then taken off", () => {
    const wrote = soak({ min: 120, put_in_skew_ms: two_hours });
    expect(readyAt(wrote)).toBe(HALF_PAST_ONE + 30 * MIN);
  });

  test("its own countdown is right: both ends are corrected", () => {
    const wrote = soak({ min: 120, put_in_skew_ms: two_hours });
    const on_its_clock = HALF_PAST_ONE + 120 * MIN + 14 * MIN;
    expect((readyAt(wrote) ?? 0) - trueNow(on_its_clock, two_hours)).toBe(16 * MIN);
  });

  test("a time that a person typed is not corrected", () => {
    expect(readyAt(soak({ put_in_skew_ms: null }))).toBe(HALF_PAST_ONE + 30 * MIN);
  });

  test("in the future, or two days in water, is asked about", () => {
    expect(putInLooksWrong(soak({ min: 10 }), HALF_PAST_ONE)).toBe(true);
    expect(putInLooksWrong(soak(), HALF_PAST_ONE + 20 * MIN)).toBe(false);
    expect(putInLooksWrong(soak(), HALF_PAST_ONE + 3 * 86_400_000)).toBe(true);
    expect(putInLooksWrong(soak({ out_min: 30 }), HALF_PAST_ONE + 3 * 86_400_000)).toBe(false);
  });
});

describe("the maker's own marks", () => {
  const of_d = { lot: "d", water: "warm", purpose: "profile" } as const;

  test("the newest good, the earliest too soft, the longest still hard", () => {
    const soaks = [
      soak({ lot: "d", mark: "good", out_min: 25 }),
      soak({ lot: "d", min: 60, mark: "good", out_min: 92 }),
      soak({ lot: "d", mark: "too_soft", out_min: 70 }),
      soak({ lot: "d", mark: "too_soft", out_min: 55 }),
      soak({ lot: "d", mark: "still_hard", out_min: 15 }),
      soak({ lot: "d", mark: "still_hard", out_min: 18 }),
    ];
    expect(marksOf(soaks, of_d)).toEqual({ good_s: 32 * 60, too_soft_s: 55 * 60, still_hard_s: 18 * 60 });
  });

  test("another lot's, another water's, another purpose's marks say nothing", () => {
    const soaks = [
      soak({ lot: "c", mark: "too_soft", out_min: 40 }),
      soak({ lot: "d", water: "cold", mark: "too_soft", out_min: 40 }),
      soak({ lot: "d", purpose: "form", mark: "too_soft", out_min: 40 }),
    ];
    expect(marksOf(soaks, of_d)).toEqual(no_marks);
  });

  test("the last taken out is asked for its mark, until it is too long ago", () => {
    const soaks = [soak({ out_min: 30 }), soak({ min: 5, out_min: 38 }), soak({ out_min: 39, mark: "good" })];
    expect(toBeMarked(soaks, HALF_PAST_ONE + 45 * MIN)?.id).toBe(soaks[1]?.id);
    expect(toBeMarked(soaks, HALF_PAST_ONE + 14 * 60 * MIN)).toBeNull();
  });
});

describe("several jars", () => {
  test("the first to be ready stands first", () => {
    const late = soak({ jar: "1", min: 18 });
    const early = soak({ jar: "2" });
    expect(inTheWater([late, early, soak({ out_min: 20 })]).map((each) => each.jar)).toEqual(["2", "1"]);
  });

  test("the lowest jar that is free", () => {
    expect(freeJar([])).toBe("1");
    expect(freeJar([soak({ jar: "1" }), soak({ jar: "3" })])).toBe("2");
    expect(freeJar([soak({ jar: "1", out_min: 20 })])).toBe("1");
  });
});

describe("as last time", () => {
  test("nobody soaked before: nothing to repeat", () => {
    expect(asLastTime([])).toBeNull();
  });

  test("the newest soak's pieces, water and time", () => {
    const last = asLastTime([soak({ pieces: 24, soak_s: 900 }), soak({ min: 2000, pieces: 8, lot: "e", soak_s: 2100 })]);
    expect(last).toMatchObject({ pieces: 8, of_pieces: null, every_s: null, lot: "e", soak_s: 2100 });
  });

  test("a batch put in by sixes is put in by sixes again, as far apart as then", () => {
    const row = [0, 18, 36, 54].map((min) => soak({ min, batch: "d1", out_min: min + 32 }));
    expect(asLastTime(row)).toMatchObject({ pieces: 6, of_pieces: 24, every_s: 1080 });
    expect(groups(24, 6)).toEqual([6, 6, 6, 6]);
    expect(groups(20, 6)).toEqual([6, 6, 6, 2]);
  });

  test("a planned row counts all its pieces, even when it was broken off", () => {
    const first = soak({ of_pieces: 24, every_s: 1080 });
    const second = soak({ min: 18, run: first.id, of_pieces: 24, every_s: 1080 });
    expect(asLastTime([first, second])).toMatchObject({ pieces: 6, of_pieces: 24, every_s: 1080 });
    expect(lastRow([soak({ min: -600 }), first, second])).toHaveLength(2);
  });

  test("the next six are due one step after the last six", () => {
    const first = soak({ of_pieces: 20, every_s: 1080 });
    const row = [first, ...[18, 36].map((min) => soak({ min, run: first.id, of_pieces: 20, every_s: 1080 }))];
    expect(nextGroup(row.slice(0, 1), HALF_PAST_ONE)).toMatchObject({ at: HALF_PAST_ONE + 18 * MIN, pieces: 6 });
    expect(nextGroup(row, HALF_PAST_ONE + 40 * MIN)).toMatchObject({ at: HALF_PAST_ONE + 54 * MIN, pieces: 2 });
    expect(nextGroup([...row, soak({ min: 54, pieces: 2, run: first.id, of_pieces: 20 })], HALF_PAST_ONE + 60 * MIN)).toBeNull();
    expect(nextGroup(row, HALF_PAST_ONE + 600 * MIN)).toBeNull();
  });
});
