import { Line, type Source } from "src/pairing/line";
import type { AtMachine } from "src/pairing/model";
import { afterEach, beforeEach, expect, test, vi } from "vitest";

beforeEach(() => vi.useFakeTimers());
afterEach(() => vi.useRealTimers());

class FakeSource implements Source {
  readyState = 1;
  isClosed = false;
  private readonly ears = new Map<string, ((event: MessageEvent<string>) => void)[]>();

  addEventListener(name: string, hear: (event: MessageEvent<string>) => void): void {
    this.ears.set(name, [...(this.ears.get(name) ?? []), hear]);
  }

  close(): void {
    this.isClosed = true;
    this.readyState = 2;
  }

  say(name: string, data: unknown = null): void {
    for (const hear of this.ears.get(name) ?? []) hear({ data: JSON.stringify(data) } as MessageEvent<string>);
  }
}

function bench() {
  const sources: FakeSource[] = [];
  const urls: string[] = [];
  const waits: number[] = [];
  const told: AtMachine[][] = [];
  let asked = 0;
  const line = new Line({
    open: (url) => {
      urls.push(url);
      const source = new FakeSource();
      sources.push(source);
      return source;
    },
    chance: () => 0.5,
    device: () => "phone 1",
    changed: (wait_ms) => waits.push(wait_ms),
    at: (all) => told.push(all),
    ask: () => {
      asked += 1;
    },
  });
  line.open();
  const last = () => sources.at(-1) as FakeSource;
  return { line, sources, urls, waits, told, last, asked: () => asked };
}

test("a change elsewhere asks for an exchange within a second and says who is where", () => {
  const here = bench();
  const at = { machine: "door", device: "tablet", at: "2026-11-25T14:00:00.000Z" };
  here.last().say("changed", { at: [at] });
  expect(here.waits).toEqual([125]);
  expect(here.told).toEqual([[at]]);
  expect(here.urls).toEqual(["/api/events?device=phone%201"]);
});

test("what was written while the line was cut is asked for when it stands again", () => {
  const here = bench();
  here.last().say("now", { at: [] });
  expect(here.waits).toHaveLength(1);
});

test("another place with the same key took over: this one asks, and tries again after a minute", () => {
  const here = bench();
  here.last().say("replaced");
  expect(here.sources[0]?.isClosed).toBe(true);
  expect(here.asked()).toBe(1);
  vi.advanceTimersByTime(30_000);
  expect(here.sources).toHaveLength(1);
  vi.advanceTimersByTime(60_000);
  expect(here.sources).toHaveLength(2);
});

test("a line that the server has no room for is tried again; one that was cut is left to the browser", () => {
  const here = bench();
  here.last().say("error");
  expect(here.sources[0]?.isClosed).toBe(false);
  here.last().readyState = 2;
  here.last().say("error");
  vi.advanceTimersByTime(90_000);
  expect(here.sources).toHaveLength(2);
});

test("a withdrawn device asks at once, and so learns why", () => {
  const here = bench();
  here.last().say("ended");
  expect(here.waits).toEqual([0]);
});

test("a server that closes is looked for again in a few seconds", () => {
  const here = bench();
  here.last().say("closing");
  vi.advanceTimersByTime(4000);
  expect(here.sources).toHaveLength(2);
});

test("a line that was put away hears nothing and opens nothing", () => {
  const here = bench();
  const source = here.last();
  here.line.close();
  source.say("changed", { at: [] });
  source.say("closing");
  vi.advanceTimersByTime(200_000);
  expect(here.waits).toEqual([]);
  expect(here.sources).toHaveLength(1);
});

test("an event that cannot be read still asks for an exchange and puts nobody anywhere", () => {
  const here = bench();
  here.last().say("changed", "nonsense");
  expect(here.waits).toHaveLength(1);
  expect(here.told).toEqual([]);
});
