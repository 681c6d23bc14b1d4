import "fake-indexeddb/auto";
import { IDBFactory } from "fake-indexeddb";
import { beforeEach, describe, expect, test, vi } from "vitest";
import type { Values } from "src/logbook/model";
import { said } from "./drawn";

let book: typeof import("src/logbook/state");
let slips: typeof import("src/logbook/slips");
let format: typeof import("src/language/format");
let screw: typeof import("src/set_up/ForeseenScrew");
let model: typeof import("src/set_up/model");
let readings: typeof import("src/set_up/foreseen_state");
let page: typeof import("src/batches/ForeseenLot");
let start: typeof import("src/batches/ForeseenStart");

const put = (kind: string, record: string, set: Values): void => {
  book.logbook.write([{ kind, record, set }]);
};

beforeEach(async () => {
  vi.resetModules();
  globalThis.indexedDB = new IDBFactory();
  book = await import("src/logbook/state");
  slips = await import("src/logbook/slips");
  format = await import("src/language/format");
  model = await import("src/set_up/model");
  readings = await import("src/set_up/foreseen_state");
  screw = await import("src/set_up/ForeseenScrew");
  page = await import("src/batches/ForeseenLot");
  start = await import("src/batches/ForeseenStart");
  await book.logbook.open();
  format.locale.value = "en-GB";
  put("machine", "m", { name: "Window", middle_thread: "M4", middle_lowers: "clockwise" });
  put("setting", "s", { machine: "m", blade: "b", middle_stop: { way: "turns", value: 2 }, at: "2026-11-20T10:00:00.000Z" });
});

describe("the middle stop", () => {
  const advice = (): string => {
    const row = book.logbook.row("machine", "m");
    if (!row) throw new Error("the machine was just written down");
    return said(screw.ScrewAdvice({ machine: model.readMachine(row), what: "middle_stop", bare: true }));
  };
  const measured = (...values: number[]): void => {
    for (const value of values) readings.writeReading("m", "middle", value, true, null);
  };

  test("with nothing measured the thread alone speaks, and says so", () => {
    expect(advice()).toBe("By the thread alone 5° is 0.01 mm. Measure three pieces and I can say how far.");
  });

  test("it asks what the pieces should measure", () => {
    measured(0.5);
    expect(advice()).toContain("Say what the pieces should measure");
  });

  test("after two pieces it says how many are wanting", () => {
    put("machine", "m", { middle_wanted_mm: 0.45 });
    measured(0.49, 0.5);
    expect(advice()).toBe("1 more piece measured and I can say how far.");
  });

  test("three pieces that agree say how far and which way, with the range and on what it rests", () => {
    put("machine", "m", { middle_wanted_mm: 0.45 });
    measured(0.49, 0.49, 0.49);
    expect(advice()).toMatch(
      /^The last 3 pieces are 0.04 mm too thick at the middle. Turn the middle stop 1\/16 turn clockwise: 21°\..* \d+° to \d+°, 9 times in 10 , by the thread alone/,
    );
  });

  test("what a turn really does is taken from the measured moves", () => {
    slips.showSlips([
      {
        kind: "screw",
        subject: "m/middle",
        body: { effect: [0.5, 0, 0], covariance: [0.001, 0, 0.0001, 0, 0, 0.00001], repeats_mm: 0.006, piece_mm: 0.01, moves: 5, last_raised: false },
      },
    ]);
    put("machine", "m", { middle_wanted_mm: 0.45 });
    measured(0.49, 0.49, 0.49);
    expect(advice()).toMatch(/Turn the middle stop 1\/8 turn clockwise, a little less: 41°\..*from 5 moves/);
  });

  test("right after a move as well: before anything is measured the learned effect speaks, not the thread", () => {
    slips.showSlips([
      {
        kind: "screw",
        subject: "m/middle",
        body: { effect: [0.5, 0, 0], covariance: [0.001, 0, 0.0001, 0, 0, 0.00001], repeats_mm: 0.006, piece_mm: 0.01, moves: 5, last_raised: false },
      },
    ]);
    expect(advice()).toBe(
      "By 5 moves with pieces measured before and after 10° is 0.01 mm. Measure three pieces and I can say how far.",
    );
  });

  test("a turn that no hand can do is not asked for", () => {
    slips.showSlips([
      {
        kind: "screw",
        subject: "m/middle",
        body: { effect: [2.5, 0, 0], covariance: [0.001, 0, 0.0001, 0, 0, 0.00001], repeats_mm: 0.002, piece_mm: 0.01, moves: 5, last_raised: false },
      },
    ]);
    put("machine", "m", { middle_wanted_mm: 0.45 });
    measured(0.47, 0.47, 0.47);
    expect(advice()).toBe(
      "The last 3 pieces are 0.02 mm too thick at the middle. That is less than half of 1/16 turn: leave the screw.",
    );
  });

  test("pieces as they should be leave it alone", () => {
    put("machine", "m", { middle_wanted_mm: 0.45 });
    measured(0.45, 0.46, 0.45);
    expect(advice()).toBe("The last 3 pieces are 0.45 mm, as they should: leave the screw.");
  });

  test("pieces from before the screw moved do not count any more", () => {
    put("machine", "m", { middle_wanted_mm: 0.45 });
    measured(0.49, 0.49, 0.49);
    put("setting", "s2", { machine: "m", blade: "b", middle_stop: { way: "turns", value: 2.1 }, at: "2099-01-01T00:00:00.000Z" });
    expect(advice()).toContain("By the thread alone");
  });

  test("dry pieces are not held against what is said of wet ones", () => {
    put("machine", "m", { middle_wanted_mm: 0.45, middle_wanted_wet: true });
    readings.writeReading("m", "middle", 0.43, false, null);
    expect(advice()).toContain("measure wet ones");
  });

  test("where the way it lowers is not known, the height is said and no turn", () => {
    put("machine", "m", { middle_wanted_mm: 0.45, middle_lowers: null });
    measured(0.49, 0.49, 0.49);
    expect(advice()).toContain("The stop goes down by 0.04 mm");
    expect(advice()).not.toContain("°");
  });

  test("a reading that was taken back does not count", () => {
    put("machine", "m", { middle_wanted_mm: 0.45 });
    measured(0.49, 0.49);
    readings.takeBackReading(readings.writeReading("m", "middle", 0.49, true, null));
    expect(advice()).toContain("1 more piece");
  });
});

describe("how many to start", () => {
  const answer = (more: Partial<import("src/batches/ForeseenStart").StartFacts> = {}): string =>
    said(start.Answer({ lot: "C", label: "C", pieces: 24, onStart: () => undefined, ...more, wanted: 24 }));

  test("of a lot that was cut, with the range and on what it rests", () => {
    slips.showSlips([{ kind: "yields", subject: "C", body: { stages: { profiled: [26, 0, 4] } } }]);
    expect(answer()).toContain("24 good wanted: start 32 of lot C (9 times in 10)");
    expect(answer()).toContain("28 are enough half the time; with 34 it is 19 times in 20. From 26 good of 30, lot C.");
  });

  test("with nothing counted yet, by common practice and named so", () => {
    expect(answer()).toContain("24 good wanted: 30 by common practice, a quarter more. 15 more pieces and I can say.");
  });

  test("of a lot never cut, by the lots before it", () => {
    slips.showSlips([{ kind: "yields", subject: "all", body: { stages: { profiled: { a: 60, b: 5, good: 2290, tried: 2431, lots: 6 } } } }]);
    expect(answer()).toContain("From 6 lots so far; 15 more pieces of lot C and I can say for this one.");
  });

  test("where a later stage loses some too, for the last of them as well", () => {
    slips.showSlips([{ kind: "yields", subject: "C", body: { stages: { profiled: [26, 0, 4], formed: [40, 0, 4] } } }]);
    expect(answer()).toContain("For 24 formed: start 37.");
  });

  test("of a batch half cut, what is still to come", () => {
    slips.showSlips([{ kind: "yields", subject: "C", body: { stages: { profiled: [26, 0, 4] } } }]);
    expect(answer({ pieces: 32, done: 20, good: 18 })).toMatch(/^Of the 12 still to cut, 8 to 12 come out good: 26 to 30 in all/);
  });
});

describe("a lot's own page", () => {
  const of = (lot: string): string => said(page.ForeseenLot({ lot }));

  test("says how much came out good, and in which range", () => {
    slips.showSlips([{ kind: "yields", subject: "C", body: { stages: { profiled: [26, 0, 4] }, share: [0.74, 0.94] } }]);
    expect(of("C")).toContain("26 of 30 came out good: 74 to 94 of a hundred, 9 times in 10.");
  });

  test("says nothing of a lot that was never cut", () => {
    slips.showSlips([{ kind: "yields", subject: "D", body: { stages: { gouged: [24, 0, 0] }, share: [0.01, 0.99] } }]);
    expect(of("D")).toBe("");
    expect(of("unknown")).toBe("");
  });
});
