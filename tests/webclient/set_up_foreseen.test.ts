import fc from "fast-check";
import { describe, expect, it } from "vitest";
import type { Row, Value } from "src/logbook/model";
import {
  alike,
  asTyped_mm,
  BY_THREAD,
  clockwiseDegrees,
  effectOf,
  handTurn,
  moveFor,
  offBy,
  type Reading,
  readReading,
  stoodSince,
  usualOf,
} from "src/set_up/foreseen_rules";
import { fits, heightRange, turn, turnRange, usualMore, usually } from "src/set_up/foreseen_words";
import type { Setting, Stop } from "src/set_up/model";
import { shared } from "./set_up_foreseen_cases";

const reading = (minute: number, value_mm: number, wet = true): Reading => ({
  id: String(minute),
  machine: "m",
  point: "middle",
  value_mm,
  wet,
  at: new Date(Date.UTC(2026, 10, 25, 14, minute)).toISOString(),
});

const setting = (day: number, turns: number, blade = "b"): Setting => ({
  id: String(day),
  machine: "m",
  blade,
  middle_stop: { way: "turns", value: turns } satisfies Stop,
  shoulder_stop: null,
  projection_mm: null,
  template: null,
  why: null,
  moved: null,
  at: new Date(Date.UTC(2026, 10, day)).toISOString(),
});

const row = (fields: Record<string, Value>): Row => ({
  kind: "reading",
  id: "r",
  fields: Object.fromEntries(
    Object.entries(fields).map(([name, value]) => [name, { value, change: "c", seq: 1, when: "", back: false, saw: null }]),
  ),
});

describe("how far to turn", () => {
  it.each(shared)("$name: as on the server", (one) => {
    const [effect = 1, backlash_mm = 0, creep_mm = 0, repeats_mm = 0, piece_mm = 0] = one.effect;
    const covariance = one.covariance as unknown as typeof BY_THREAD.covariance;
    const found = moveFor(
      one.readings_mm,
      one.wanted_mm,
      { effect, backlash_mm, creep_mm, covariance, repeats_mm, piece_mm, moves: 1 },
      one.last_raised,
    );
    const { move } = one;
    if (move === null) return expect(found).toBeNull();
    if (found === null) throw new Error("the server says a move here");
    [found.off_mm, found.raise_mm, found.low_mm, found.high_mm].forEach((value, i) => {
      expect(value).toBeCloseTo(move[i] ?? Number.NaN, 9);
    });
    expect(clockwiseDegrees(found.raise_mm, one.pitch_mm, one.lowers)).toBeCloseTo(one.clockwise_degrees, 6);
  });

  it("two pieces say nothing yet", () => {
    expect(offBy([0.5, 0.51], 0.45, 0.015)).toBeNull();
    expect(moveFor([0.5, 0.51], 0.45, BY_THREAD, null)).toBeNull();
  });

  it("what it says always lies within its range", () => {
    const thick = fc.double({ min: 0.2, max: 0.8, noNaN: true });
    fc.assert(
      fc.property(fc.array(thick, { maxLength: 12 }), thick, fc.constantFrom(null, true, false), (values, wanted, last) => {
        const move = moveFor(values, wanted, BY_THREAD, last);
        if (move === null) return;
        expect(move.low_mm).toBeLessThan(move.raise_mm);
        expect(move.high_mm).toBeGreaterThan(move.raise_mm);
        expect(Math.sign(move.off_mm)).toBe(-Math.sign(move.raise_mm));
      }),
    );
  });
});

describe("a turn that a hand can do", () => {
  const of = (point: "middle" | "shoulder", degrees: number): string => turn(point, degrees, handTurn(degrees));

  it("19 degrees are a sixteenth, a little less, clockwise", () => {
    expect(of("middle", 19.2)).toBe("Turn the middle stop 1/16 turn clockwise, a little less: 19°.");
  });

  it("backwards is anticlockwise, and a fraction is written as short as it goes", () => {
    expect(of("shoulder", -88)).toBe("Turn the shoulder stop 1/4 turn anticlockwise: 88°.");
  });

  it("between two eighths in sixteenths, beyond a turn in turns", () => {
    expect(of("middle", 67)).toBe("Turn the middle stop 3/16 turn clockwise: 67°.");
    expect(of("middle", 388)).toBe("Turn the middle stop 1 1/16 turns clockwise, a little more: 388°.");
    expect(of("middle", 360)).toBe("Turn the middle stop 1 turn clockwise: 360°.");
  });

  it.each([
    [45, { sixteenths: 2, than: null }],
    [-400, { sixteenths: -18, than: "less" }],
    [30, { sixteenths: 1, than: "more" }],
    [11, { sixteenths: 0, than: "more" }],
  ])("%s degrees", (degrees, hand) => {
    expect(handTurn(degrees)).toEqual(hand);
  });

  it("is never further from what is wanted than half a sixteenth", () => {
    fc.assert(
      fc.property(fc.double({ min: -2000, max: 2000, noNaN: true }), (degrees) => {
        expect(Math.abs(handTurn(degrees).sixteenths * 22.5 - degrees)).toBeLessThanOrEqual(11.25 + 1e-9);
      }),
    );
  });
});

describe("the range of a turn", () => {
  it("both ends on the way that is said", () => {
    expect(turnRange(7.2, 29.8)).toBe("7° to 30°, 9 times in 10");
    expect(turnRange(-29.8, -7.2)).toBe("7° to 30°, 9 times in 10");
  });

  it("three pieces at 0.42 where 0.40 is wanted: it may have to go the other way", () => {
    const move = moveFor([0.42, 0.42, 0.42], 0.4, BY_THREAD, null);
    if (move === null) throw new Error("a move is said here");
    expect(move.low_mm).toBeLessThan(0);
    expect(move.high_mm).toBeGreaterThan(0);
    const [low = 0, high = 0] = [move.low_mm, move.high_mm].map((mm) => clockwiseDegrees(mm, 0.5, "clockwise"));
    expect(turnRange(low, high)).toBe("from 4° the other way to 33°, 9 times in 10");
    expect(heightRange(move)).toBe("from 0.01 mm the other way to 0.05 mm, 9 times in 10");
  });

  it("an end that rounds to nothing is nothing", () => {
    expect(turnRange(-0.3, 20)).toBe("0° to 20°, 9 times in 10");
    expect(turnRange(0.3, -20)).toBe("0° to 20°, 9 times in 10");
  });
});

describe("how pieces come out while the stop stands", () => {
  it("is read from the slip, with what the maker allows where that is said", () => {
    const said = { pieces: 12, wet: true, lower: 0.412, upper: 0.488, cp: [1.4, 0.9, 1.8], cpk: [1.1, 0.6, 1.5] };
    expect(usualOf({ usual: said })).toEqual(said);
    expect(usualOf({ usual: { pieces: 12, wet: false, lower: 0.4, upper: 0.5 } })).toMatchObject({ cp: null, cpk: null });
    expect(usualOf({ usual: { wanting: 3 } })).toEqual({ wanting: 3 });
    for (const odd of [undefined, {}, { usual: 5 }, { usual: { pieces: "12" } }]) expect(usualOf(odd)).toBeNull();
  });

  it("is told with its range, or with how many pieces are wanting", () => {
    expect(usually(12, true, 0.412, 0.488)).toBe("Nearly all come out between 0.412 mm and 0.488 mm: from 12 wet pieces since the stop moved.");
    expect(fits(0.03, [1.4, 0.9, 1.8], [1.1, -0.2, 1.5])).toBe(
      "Your 0.03 mm either way holds their scatter 1.4 times (0.9 to 1.8, 19 times in 20); where they lie now, 1.1 times (0.0 to 1.5, 19 times in 20). Below 1 some fall outside.",
    );
    expect(usualMore(1)).toContain("1 more piece measured since the stop moved");
  });
});

describe("which pieces count", () => {
  it("those since the screw or the blade was last changed", () => {
    const settings = [setting(9, 2), setting(8, 2), setting(5, 2.125), setting(2, 2)];
    expect(stoodSince(settings, "middle")).toBe(settings[1]?.at);
    expect(stoodSince(settings, "shoulder")).toBe(settings[3]?.at);
    expect(stoodSince([setting(9, 2, "c"), setting(8, 2)], "middle")).toBe(setting(9, 2).at);
    expect(stoodSince([], "middle")).toBeNull();
  });

  it("all wet or all dry, as the newest is", () => {
    const values = alike([reading(3, 0.5), reading(1, 0.47, false), reading(2, 0.49)], null);
    expect(values.map(({ value_mm }) => value_mm)).toEqual([0.49, 0.5]);
  });

  it("none from before the screw moved", () => {
    expect(alike([reading(1, 0.5), reading(9, 0.4)], reading(5, 0).at).map(({ value_mm }) => value_mm)).toEqual([0.4]);
  });
});

describe("what is read", () => {
  const good = { machine: "m", point: "middle", value_mm: 0.47, wet: true, at: "2026-11-25T14:00:00.000Z" };

  it("a reading as it was written", () => {
    expect(readReading(row(good))).toMatchObject({ ...good, id: "r" });
  });

  it.each([[{ value_mm: 0 }], [{ value_mm: "thick" }], [{ point: "end" }], [{ machine: null }], [{ at: 5 }]])(
    "%j says nothing",
    (odd) => {
      expect(readReading(row({ ...good, ...odd }))).toBeNull();
    },
  );

  it.each([[undefined], [{}], [{ effect: [1, 2] }], [{ effect: [1, 0, 0], covariance: "odd" }], [{ effect: [-1, 0, 0], covariance: [1, 0, 1, 0, 0, 1], repeats_mm: 0, piece_mm: 0.01, moves: 2 }]])(
    "a slip like %j leaves the thread alone to speak",
    (body) => {
      expect(effectOf(body as never)).toBe(BY_THREAD);
    },
  );

  it("47 on the keys is 0.47 mm, and 18 thousandths in inches", () => {
    expect(asTyped_mm("47", false, 47, false)).toBe(0.47);
    expect(asTyped_mm("0.47", true, 0.47, false)).toBe(0.47);
    expect(asTyped_mm("18", false, 18, true)).toBe(0.018);
    expect(asTyped_mm("", false, null, false)).toBeNull();
  });
});
