import { h } from "preact";
import { beforeAll, expect, test, vi } from "vitest";
import { type EdgeForeseen, ForeseenEdge } from "src/blades/ForeseenEdge";
import { ForeseenGrinding } from "src/blades/ForeseenGrinding";
import { advice, chanceWithout, shareWithout } from "src/blades/foreseen_grinding_rules";
import { partRange, partThatLasts } from "src/blades/foreseen_rules";
import { ForeseenDue } from "src/care/ForeseenDue";
import { locale, timeZone } from "src/language/format";
import { said } from "./drawn";

beforeAll(() => {
  vi.useFakeTimers({ now: Date.parse("2026-11-25T12:00:00Z"), toFake: ["Date"] });
  locale.value = "en-GB";
  timeZone.value = "Europe/Berlin";
});

const EDGE: EdgeForeseen = {
  blade: "b4",
  label: "4",
  pieces: 130,
  left: [41, 92, 138],
  lookAt: 158,
  limit: 200,
  ended: 10,
  cutting: 3,
  wanting: 0,
  apart: null,
  today: "2026-11-25",
  fitted: true,
  ends: { lower: "2026-12-03", middle: "2026-12-05", upper: "2026-12-08" },
  change: { day: "2026-12-05", moved: "stays", batch: null },
};

const edge = (more: Partial<EdgeForeseen>, short = false): string => said(h(ForeseenEdge, { edge: { ...EDGE, ...more }, short }));

test("pieces left are told with their range, and the days on which the edge is off", () => {
  expect(edge({})).toContain("About 90 pieces left (40 to 140, 9 times in 10).");
  expect(edge({})).toContain("it goes blunt between Thu 3 Dec and Tue 8 Dec, 9 times in 10");
  expect(edge({})).toContain("From 10 edges that went off here.");
});

test("few are told one by one, many by the ten, never a narrower range", () => {
  expect(edge({ left: [2.4, 11.6, 23] })).toContain("About 12 pieces left (2 to 25,");
});

test("before the maker's own edges speak, it says whose word it is and how many are wanting", () => {
  expect(edge({ ended: 0, wanting: 4 })).toContain("By common practice; 4 more edges and I can say.");
});

test("a blade of another steel rests on its own edges", () => {
  expect(edge({ ended: 4, apart: "blade" })).toContain("From 4 edges of this blade, which last otherwise than the others here.");
});

test("a bow is looked for at the maker's own limit, sooner where edges go off sooner, or now", () => {
  expect(edge({})).toContain("Look for a bow from 158 pieces on");
  expect(edge({ lookAt: 200 })).toContain("Look for a bow at 200 pieces: your own limit.");
  expect(edge({ pieces: 158 })).toContain("look for a bow now");
});

test("within the set-up it is told in one line, with a bow only when it is time", () => {
  expect(edge({}, true)).not.toContain("bow");
  expect(edge({ pieces: 170 }, true)).toContain("look for a bow now");
  expect(edge({}, true)).toContain("9 times in 10");
});

test("a blade that lies in the drawer has no day", () => {
  expect(edge({ fitted: false, ends: null })).not.toContain("pace");
  expect(edge({ ends: null })).toContain("no day can be said");
});

const grinding = (blunt: number, keen: number, one: number | null = 12, box: number | null = 45, ended = 10): string => {
  const demand = { piecesPerEdge: 234, perDay: 8.3, days: 14 };
  return said(
    h(ForeseenGrinding, {
      grinding: {
        advice: advice({ blunt, keen, away: 0 }, { one, box, box_of: 5 }, demand),
        keen,
        all: blunt + keen,
        needed: 3,
        sendings: 5,
        days: 14,
        ended,
        wanting: Math.max(0, 5 - ended),
        money: (amount) => (amount === null ? null : `EUR ${amount}`),
      },
    }),
  );
};

test("both ways of grinding are told with what they cost, and the chance of standing without a blade", () => {
  expect(grinding(2, 2)).toContain("Send 2 now.");
  expect(grinding(2, 2)).toContain("2 one by one cost EUR 24, the box EUR 45.");
  expect(grinding(2, 2)).toContain("With the 2 blades here you stand without one 9 times in 100");
  expect(grinding(5, 3)).toContain("Send the box now.");
  expect(grinding(5, 3)).toContain("5 one by one cost EUR 60, the box EUR 45.");
  expect(grinding(3, 7)).toContain("Wait for the box: 2 more make it full.");
  expect(grinding(0, 4)).toContain("No blade waits to be ground.");
});

test("how many blades are enough rests on how long an edge lasts: whose word that is, and how many are wanting", () => {
  expect(grinding(2, 2, 12, 45, 0)).toContain("How long an edge lasts: by common practice; 5 more edges and I can say.");
  expect(grinding(2, 2, 12, 45, 3)).toContain("How long an edge lasts: by common practice and 3 edges here; 2 more edges and I can say.");
  expect(grinding(2, 2)).toContain("How long an edge lasts: from 10 edges that went off here.");
});

test("where nobody said what grinding costs, that is said", () => {
  expect(grinding(5, 3, null, null)).toContain("not written down");
});

test("care is due about a day with its range; on a list nothing is said twice", () => {
  const due = { task: "t", by: "pieces" as const, days: { lower: "2026-11-26", middle: "2026-11-27", upper: "2026-12-01" } };
  expect(said(h(ForeseenDue, { due, roughly: null, moved: null }))).toContain("Due about Fri 27 Nov (Thu 26 Nov to Tue 1 Dec, 9 times in 10)");
  const exact = { ...due, days: { lower: "2026-11-27", middle: "2026-11-27", upper: "2026-11-27" } };
  expect(said(h(ForeseenDue, { due: exact, roughly: null, moved: null, line: true }))).toBe("");
  expect(said(h(ForeseenDue, { due: null, roughly: "2026-11-27", moved: null, line: true }))).toContain("roughly Fri 27 Nov");
});

test("where the calendar ends the wait it is due by that day, perhaps earlier", () => {
  const due = { task: "t", by: "days" as const, days: { lower: "2026-12-01", middle: "2026-12-07", upper: "2026-12-07" } };
  const told = { due, roughly: "2026-12-07", moved: null };
  expect(said(h(ForeseenDue, told))).toMatch(/^Due by Mon 7 Dec, perhaps from Tue 1 Dec ?\./);
  expect(said(h(ForeseenDue, { ...told, line: true }))).toBe("perhaps from Tue 1 Dec");
});

test("a change of blade that would stand in front of a batch is told to move, also while nothing is foreseen", () => {
  const days = { lower: "2026-12-01", middle: "2026-12-05", upper: "2026-12-09" };
  const told = { due: { task: "t", by: "pieces" as const, days }, roughly: "2026-12-03", moved: "before" as const };
  const change = "Change it on Thu 3 Dec, a quiet day before the next batch.";
  expect(said(h(ForeseenDue, told))).toContain(change);
  expect(said(h(ForeseenDue, { ...told, due: null }))).toContain(change);
  expect(said(h(ForeseenDue, { ...told, line: true }))).toContain("a quiet day before the next batch");
  expect(said(h(ForeseenDue, { ...told, moved: "after" }))).toContain("change it on Thu 3 Dec, or move the batch");
});

test("the band of the evidence holds its curve, and the share without falls with every blade", () => {
  const laws = [
    { shape: 3, scale: 220, weight: 0.3 },
    { shape: 5, scale: 255, weight: 0.4 },
    { shape: 7, scale: 290, weight: 0.3 },
  ];
  for (const pieces of [0, 100, 200, 300]) {
    const [low, high] = partRange(laws, pieces);
    expect(low).toBeLessThanOrEqual(partThatLasts(laws, pieces));
    expect(high).toBeGreaterThanOrEqual(partThatLasts(laws, pieces));
  }
  const demand = { piecesPerEdge: 250, perDay: 20, days: 14 };
  for (let n = 1; n < 8; n += 1) {
    expect(shareWithout(n + 1, demand)).toBeLessThan(shareWithout(n, demand));
    expect(chanceWithout(n + 1, demand)).toBeLessThan(chanceWithout(n, demand));
  }
});
