import fc from "fast-check";
import { describe, expect, it } from "vitest";
import type { Row, Value } from "src/logbook/model";
import {
  alike,
  asTyped_mm,
  BY_THREAD,
  clockwiseDegrees,
  effectOf,
  handDegrees,
  moveFor,
  offBy,
  partOfTurn,
  type Reading,
  readReading,
  stoodSince,
} from "src/set_up/foreseen_rules";
import { turn } from "src/set_up/foreseen_words";
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
  it("20 degrees are about 1/18 turn, clockwise", () => {
    expect(turn("middle", handDegrees(19.2))).toBe("Turn the middle stop 20° clockwise: about 1/18 turn.");
  });

  it("backwards is anticlockwise, from an eighth on in eighths", () => {
    expect(turn("shoulder", handDegrees(-88))).toBe("Turn the shoulder stop 90° anticlockwise: about 1/4 turn.");
  });

  it("between two eighths in sixteenths", () => {
    expect(turn("middle", handDegrees(67))).toBe("Turn the middle stop 65° clockwise: about 3/16 turn.");
    expect(turn("middle", handDegrees(384))).toBe("Turn the middle stop 385° clockwise: about 1 1/16 turns.");
  });

  it.each([
    [45, { sixteenths: 2 }],
    [400, { sixteenths: 18 }],
    [20, { oneOf: 18 }],
    [-5, { oneOf: 72 }],
  ])("%s degrees", (degrees, part) => {
    expect(partOfTurn(degrees)).toEqual(part);
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
