import { type AtMachine, readAtMachines, readCode, readPhones, readWayIn, readWho } from "src/pairing/model";
import { codeIn, goodFor_min, hearingSpread_ms, latestAt, lineAgain_ms, typed } from "src/pairing/rules";
import { expect, test } from "vitest";

test("six figures are typed one by one, a seventh and a letter change nothing", () => {
  const keys = ["4", "2", "x", "8", "Enter", "1", "1", "7", "9"];
  expect(keys.reduce(typed, "")).toBe("428117");
});

test("the last figure is taken back, and taking back nothing is nothing", () => {
  expect(typed("42", "back")).toBe("4");
  expect(typed("", "back")).toBe("");
});

test("a code is good for whole minutes, the last one included, and then no more", () => {
  const ends = "2026-11-25T14:10:00.000Z";
  expect(goodFor_min(ends, Date.parse("2026-11-25T14:00:00Z"))).toBe(10);
  expect(goodFor_min(ends, Date.parse("2026-11-25T14:09:59Z"))).toBe(1);
  expect(goodFor_min(ends, Date.parse(ends))).toBe(0);
  expect(goodFor_min("nonsense", 0)).toBe(0);
});

const at = (machine: string, device: string, minute: number): AtMachine => ({
  machine,
  device,
  at: `2026-11-25T14:${String(minute).padStart(2, "0")}:00.000Z`,
});

test("at each machine stands whoever was there last, machines in their own order", () => {
  const all = [at("door", "tablet", 3), at("window", "phone", 1), at("door", "phone", 2), at("gone", "phone", 9)];
  expect(latestAt(all, ["window", "door", "idle"])).toEqual([all[1], all[0]]);
});

test("a change elsewhere is asked for within a quarter of a second", () => {
  for (const chance of [0, 0.5, 1]) expect(hearingSpread_ms(chance)).toBeLessThanOrEqual(250);
});

test("a line that was refused or taken over is tried again after about a minute, one of a closing server soon", () => {
  for (const chance of [0, 1]) {
    expect(lineAgain_ms("refused", chance)).toBeGreaterThanOrEqual(45_000);
    expect(lineAgain_ms("replaced", chance)).toBeGreaterThanOrEqual(45_000);
    expect(lineAgain_ms("closing", chance)).toBeLessThanOrEqual(4000);
  }
});

test("who this device is, is read from the workshop's answer and from nothing else", () => {
  const who = { comes_in: false, at_machine: false, why: "withdrawn", role: null, name: null };
  expect(readWho({ ...who, id: "x", paired: null })).toEqual(who);
  expect(readWho({ ...who, why: "odd", role: "king" })).toMatchObject({ why: null, role: null });
  expect(readWho("<html>a captive portal</html>")).toBeNull();
});

test("a device or a place that cannot be read is left out, and no list is none", () => {
  const device = { id: "d", name: "Tablet", role: "hand", seen: "2026-11-25T14:00:00.000Z", withdrawn: null, is_this: true };
  expect(readPhones({ devices: [device, { id: 7 }], invitation: { figures_left: 2 } })).toEqual({
    devices: [device],
    address: null,
    figures_left: 2,
  });
  expect(readPhones({ devices: [], invitation: null, address: "https://bench.local:8443/" })?.figures_left).toBeNull();
  expect(readPhones({})).toBeNull();
  expect(readAtMachines({ at: [at("door", "tablet", 3), {}] })).toEqual([at("door", "tablet", 3)]);
  expect(readAtMachines([])).toBeNull();
});

test("a code is read with or without a square", () => {
  const code = { role: "maker", ends: "2026-11-25T14:10:00.000Z", figures: "428117", square: null };
  expect(readCode({ ...code, figures_left: 3 })).toEqual(code);
  expect(readCode({ ...code, figures: null })).toBeNull();
});

test("the way in is read with where a new phone begins, and a begin without a square is left out", () => {
  const begin = { address: "http://192.168.7.1:8766/trust", square: "<svg/>" };
  expect(readWayIn({ on: true, fingerprint: "3F9A 77C2", begins: [begin, { address: "x" }] })).toEqual({
    on: true,
    fingerprint: "3F9A 77C2",
    begins: [begin],
  });
  expect(readWayIn({ on: "yes", begins: [] })).toBeNull();
});

test("the camera takes the workshop's own square at any of its addresses, and no other", () => {
  expect(codeIn("https://bench-7f3a.local:8443/#/p/ABCDEFGH2345QRST")).toBe("ABCDEFGH2345QRST");
  expect(codeIn("http://192.168.7.1:8766/trust")).toBeNull();
  expect(codeIn("https://example.org/#/p/ABCDEFGH2345QRST/more")).toBeNull();
  expect(codeIn("")).toBeNull();
});
