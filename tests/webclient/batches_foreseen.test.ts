import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { byPractice, countsOf, goodBetween, piecesToStart, seenShare, startFor, startThrough, yielded } from "src/batches/foreseen_rules";
import cases from "../shared_cases/yields.json";

const shares = (seen: number[][]) => seen.map(([good = 0, tried = 0]) => seenShare(good, tried));

describe("starting enough", () => {
  it.each(cases.start)("$wanted good of $seen, at $chance: start $start, as on the server", ({ wanted, seen, chance, start }) => {
    expect(piecesToStart(wanted, shares(seen), chance)).toBe(start);
  });

  it.each(cases.between)("of $started started with $seen, $fewest to $most are good", ({ started, seen, level, fewest, most }) => {
    expect(goodBetween(started, shares(seen), level)).toEqual([fewest, most]);
  });

  it("more certainty never needs fewer pieces", () => {
    fc.assert(
      fc.property(fc.integer({ min: 1, max: 40 }), fc.integer({ min: 5, max: 60 }), fc.double({ min: 0.4, max: 1, noNaN: true }), (wanted, tried, part) => {
        const seen = [seenShare(Math.round(tried * part), tried)];
        const at = (chance: number): number => piecesToStart(wanted, seen, chance) ?? 0;
        expect(at(0.5)).toBeLessThanOrEqual(at(0.9));
        expect(at(0.9)).toBeLessThanOrEqual(at(0.95));
        expect(at(0.5)).toBeGreaterThanOrEqual(wanted);
      }),
    );
  });

  it("a share that loses nearly all is answered with nothing", () => {
    expect(piecesToStart(24, [seenShare(0, 1_000_000)], 0.9)).toBeNull();
  });
});

describe("what the slips say", () => {
  const all = { stages: { profiled: { a: 60, b: 5, good: 2290, tried: 2431, lots: 6 } } };

  it("a lot with enough pieces speaks for itself", () => {
    const of = yielded({ stages: { profiled: [26, 0, 4] } }, all, "profiled");
    expect(of).toMatchObject({ from: "lot", good: 26, tried: 30, wanting: 0, share: { a: 26.5, b: 4.5 } });
    expect(of && startFor(24, of)).toMatchObject({ even: 28, start: 32, surer: 34 });
  });

  it("a lot hardly cut leans on the lots before it, and says how many pieces are wanting", () => {
    const of = yielded({ stages: { profiled: [5, 0, 1] } }, all, "profiled");
    expect(of).toMatchObject({ from: "lots", lots: 6, good: 2290, tried: 2431, wanting: 9, share: { a: 65, b: 6 } });
  });

  it("a second is tried, and not good", () => {
    expect(countsOf({ stages: { profiled: [20, 3, 2] } }, "profiled")).toEqual({ good: 20, tried: 25 });
  });

  it.each([[undefined], [{}], [{ stages: "odd" }], [{ stages: { profiled: ["x", null] } }], [{ stages: { profiled: { a: -1, b: 2 } } }]])(
    "with %j there is nothing to go by",
    (body) => {
      expect(yielded(body, body, "profiled")).toBeNull();
    },
  );

  it("practice stands in with a quarter more", () => {
    expect(byPractice(24)).toBe(30);
  });

  it("through several stages more are started than through the first", () => {
    const of = (good: number, tried: number) => yielded({ stages: { profiled: [good, 0, tried - good] } }, undefined, "profiled");
    const [first, then] = [of(26, 30), of(40, 44)];
    if (!first || !then) throw new Error("both lots have enough");
    expect(startThrough(24, [first, then])).toBe(37);
    expect(startThrough(24, [first])).toBeNull();
  });
});
