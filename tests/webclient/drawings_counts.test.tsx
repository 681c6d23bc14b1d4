import { expect, test } from "vitest";
import { BladeBox, boxOf } from "../../webclient/src/drawings/Blades";
import { Cane } from "../../webclient/src/drawings/Cane";
import { Strip } from "../../webclient/src/drawings/EaselBench";
import { drawnFaults, FaultDrawing } from "../../webclient/src/drawings/Fault";
import { Jar } from "../../webclient/src/drawings/Jar";
import { Lath } from "../../webclient/src/drawings/Lath";
import { Pile } from "../../webclient/src/drawings/Pile";
import { PiecesHeap } from "../../webclient/src/drawings/PiecesHeap";
import { ScrewTurn } from "../../webclient/src/drawings/ScrewHead";
import { PieceLines } from "../../webclient/src/drawings/StageColumns";
import { Tally } from "../../webclient/src/drawings/Tally";
import { elements, withClass } from "./drawn";

const COUNTS = [0, 1, 6, 24, 61];

test("a jar shows as many strips as lie in it, up to forty", () => {
  for (const [n, shown] of [[0, 0], [1, 1], [24, 24], [40, 40], [200, 40]] as const)
    expect(withClass(<Jar pieces={n} wet={0.5} />, "piece")).toHaveLength(shown);
});

test("in a jar no strip lies outside the glass, however many", () => {
  for (const n of [1, 8, 24, 61, 120]) {
    const drawn = elements(<Jar pieces={n} wet={0.5} />).filter((e) => e.type === "rect" && e.props["class"] !== "halo");
    for (const { props } of drawn) {
      const [x, y, w, h] = ["x", "y", "width", "height"].map((name) => Number(props[name]));
      expect(x).toBeGreaterThanOrEqual(0);
      expect((x ?? 0) + (w ?? 0)).toBeLessThanOrEqual(308);
      expect(y).toBeGreaterThanOrEqual(0);
      expect((y ?? 0) + (h ?? 0)).toBeLessThanOrEqual(226);
    }
  }
});

test("a piece turned end for end is drawn the other way round, its pared part under the blade as before", () => {
  const drawn = (over: boolean, left: number, right: number) =>
    elements(<Strip number={3} left={left} right={right} over={over} />);
  const pared = (all: ReturnType<typeof elements>) => all.filter(({ props }) => String(props["fill"]).includes("pared")).map(({ props }) => props["d"]);
  expect([drawn(false, 0, 0.5)[0]?.props["transform"], drawn(true, 0, 0.5)[0]?.props["transform"]]).toEqual([undefined, "matrix(-1 0 0 1 360 0)"]);
  expect(pared(drawn(true, 0, 0.5))).toEqual(pared(drawn(false, 0.5, 0)));
  expect(pared(drawn(true, 0, 0.5))).not.toEqual(pared(drawn(true, 0.5, 0)));
});

test("a pile shows as many strips as are put in", () => {
  for (const n of COUNTS) expect(withClass(<Pile n={n} />, "piece")).toHaveLength(n);
});

test("the batch as it lies: good, second, lost and to come, each as often as it was", () => {
  const heap = <PiecesHeap pieces={["good", "lost", "good", "second", null, null, "good"]} />;
  expect(["good", "second", "lost", "coming"].map((name) => withClass(heap, `piece-${name}`).length)).toEqual([3, 1, 1, 2]);
});

test("a column of Batches has a line for every piece", () => {
  for (const n of COUNTS) expect(withClass(<PieceLines n={n} />, "piece")).toHaveLength(n);
});

test("the tally has a stroke for every piece", () => {
  for (const n of COUNTS) {
    const strokes = elements(<Tally n={n} />).map((e) => String(e.props["d"] ?? "")).join("");
    expect(strokes.match(/M/g) ?? []).toHaveLength(n);
  }
});

test("the box holds as many labels as blades", () => {
  const blades = ["2", "3", "5", "6", "7", "1", "8"].map((label) => ({ label, cut: "200" }));
  for (const n of [1, 5, 7]) expect(withClass(<BladeBox blades={blades.slice(0, n)} />, "blade")).toHaveLength(n);
});

test("a blade in the box is a place of 72 by 72 on the narrowest phone, however many they are", () => {
  const shown = 328; // a page's width on a phone of 360
  for (let n = 1; n <= 20; n++) {
    const { abreast, high } = boxOf(n);
    expect((((285 / abreast) * shown) / 320) | 0).toBeGreaterThanOrEqual(72);
    expect(Math.ceil(n / abreast) * 72 + 64).toBe(high);
  }
});

test("red thread stands on the lath where the maker has a mark, and nowhere else", () => {
  const red = (mark: number | null) =>
    elements(<Lath max_min={40} now_min={10} mark_min={mark} />).filter((e) => e.props["stroke"] === "var(--red)").length;
  expect(red(30)).toBe(1);
  expect(red(null)).toBe(0);
});

test("water comes in: the dry heart is smaller the longer it lies, and gone when it is through", () => {
  const heart = (wet: number): number => {
    const front = elements(<Cane wet={wet} />).find((e) => e.type === "path" && e.props["fill"] === "var(--bark)");
    const [from, to] = [...String(front?.props["d"] ?? "").matchAll(/[MQ](?:[\d.]+ [\d.]+ )?([\d.]+) /g)].map((m) => Number(m[1]));
    return front ? (to ?? 0) - (from ?? 0) : 0;
  };
  expect(heart(0.2)).toBeGreaterThan(heart(0.6));
  expect(heart(0.6)).toBeGreaterThan(0);
  expect(heart(1)).toBe(0);
});

test("what is not pared shows no pared wood, what is pared on both sides shows two", () => {
  const pared = (left: number, right: number): number =>
    elements(<Cane left={left} right={right} />).filter((e) => e.props["fill"] === "var(--pared)").length;
  expect([pared(0, 0), pared(0.5, 0), pared(1, 1)]).toEqual([0, 1, 2]);
});

test("the same facts give the same drawing, line for line", () => {
  const lines = () => elements(<Jar pieces={6} wet={0.47} />).map((e) => e.props["d"]);
  expect(lines()).toEqual(lines());
});

test("every fault has a drawing of its own", () => {
  const drawings = drawnFaults.map((fault) => JSON.stringify(elements(<FaultDrawing fault={fault} />).map((e) => e.props["d"] ?? [e.props["x"], e.props["transform"]])));
  expect(drawnFaults).toHaveLength(17);
  expect(new Set(drawings).size).toBe(17);
});

test("a drawing with a title is an image with that name; without one it is hidden", () => {
  expect(elements(<Jar pieces={6} wet={0.5} title="six strips, half wet" />)[0]?.props).toMatchObject({ role: "img", "aria-label": "six strips, half wet" });
  expect(elements(<Jar pieces={6} wet={0.5} />)[0]?.props).toMatchObject({ "aria-hidden": true });
});

test("the screw's arrow goes the way that the screw is turned, and there is none when it stays", () => {
  const sweep = (by: number): (string | undefined)[] =>
    elements(<ScrewTurn eighths={1} by={by} />).flatMap((e) => [...String(e.props["d"] ?? "").matchAll(/A136 136 0 \d (\d)/g)].map((m) => m[1]));
  expect(sweep(1)).toEqual(["1"]); // SVG: 1 is the positive angle, clockwise on a screen
  expect(sweep(-2)).toEqual(["0"]);
  expect(sweep(0)).toEqual([]);
});

test("a screw that is turned to and fro shows one slot now and one then", () => {
  const slots = (by: number) => elements(<ScrewTurn eighths={1} by={by} />).filter((e) => e.type === "rect").length;
  expect([slots(0), slots(2)]).toEqual([1, 2]);
});

test("a number written by mistake stops no screen: 300 are drawn, the words say the number", () => {
  for (const n of [9_999_999_999, 301]) {
    expect(withClass(<Pile n={n} />, "piece")).toHaveLength(300);
    expect(withClass(<PieceLines n={n} />, "piece")).toHaveLength(300);
    expect(() => elements(<Tally n={n} />)).not.toThrow();
  }
  for (const n of [-4, Number.NaN]) expect(withClass(<PieceLines n={n} />, "piece")).toHaveLength(0);
});
