import { h } from "preact";
import { expect, test } from "vitest";
import { BladeShelf, type ShelfBlade } from "src/blades/BladeShelf";
import { elements } from "./drawn";

test("a blade in the box is called by what the screen says of the box, not ready", () => {
  const blade: ShelfBlade = { id: "b2", label: "2", place: "ready", boxed: true, pieces: 231, where: null };
  const boxWords = { label: "used, to be boxed and shut", sub: "" };
  const shelf = h(BladeShelf, { blades: [blade, { ...blade, id: "b3", boxed: false }], boxWords, machines: [], onBack: () => undefined });
  const names = elements(shelf).flatMap(({ type, props }) => (type === "button" && props["aria-label"] ? [props["aria-label"]] : []));
  expect(names).toEqual(["blade 2, used, to be boxed and shut, 231 cut"]);
});
