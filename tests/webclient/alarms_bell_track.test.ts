import { expect, test } from "vitest";
import { TRACK_RINGS_S } from "../../webclient/src/alarms/rules";
import { interruptedAt, muLaw, stretches, TRACK_HZ, trackHead, trackSecond, wasLocked, whenLocked } from "../../webclient/src/alarms/track_rules";

const NOW = Date.parse("2026-11-25T14:00:00.000Z");
const in_s = (s: number): number => NOW + s * 1000;

/** ITU-T G.711, table 2a: the decoder's side, written apart from the encoder. Full scale is 1. */
function heard(code: number): number {
  const kept = ~code & 255;
  const size = ((((kept & 15) << 3) + 132) << ((kept >> 4) & 7)) - 132;
  return (kept & 128 ? -size : size) / 32768;
}

/** Root mean square below full scale, dB. */
function level_db(bytes: Uint8Array): number {
  const power = bytes.reduce((sum, code) => sum + heard(code) ** 2, 0) / bytes.length;
  return 10 * Math.log10(power);
}

test("a sample is coded as Python 3.11's audioop codes it by G.711", () => {
  const reference = [
    [0, 255],
    [4, 254],
    [8, 254],
    [56, 248],
    [100, 242],
    [1000, 206],
    [8031, 160],
    [16000, 144],
    [32767, 128],
    [-56, 120],
    [-1000, 78],
    [-32768, 0],
  ] as const;
  for (const [sample, code] of reference) expect([sample, muLaw(sample / 32768)]).toEqual([sample, code]);
});

test("the noise of the waiting track lies about 60 dB below full scale, at no moment under 70", () => {
  const waits = trackSecond(false);
  expect(waits).toHaveLength(TRACK_HZ);
  expect(level_db(waits)).toBeGreaterThan(-62);
  expect(level_db(waits)).toBeLessThan(-58);
  const part = TRACK_HZ / 50; // 20 ms: a browser measures in short windows
  for (let at = 0; at < waits.length; at += part)
    expect(level_db(waits.subarray(at, at + part))).toBeGreaterThan(-70);
});

test("digital silence would lie under Chromium's threshold of -72 dB: the measure tells them apart", () => {
  expect(level_db(new Uint8Array(TRACK_HZ).fill(muLaw(0)))).toBeLessThan(-72.25);
});

test("the ringing is heard: more than 35 dB above the noise, and it is not cut off at full scale", () => {
  const rings = trackSecond(true);
  expect(level_db(rings) - level_db(trackSecond(false))).toBeGreaterThan(35);
  expect(Math.max(...[...rings].map((code) => Math.abs(heard(code))))).toBeLessThan(0.98);
});

test("the head says mu-law, one channel, 8 kHz, and how many bytes follow", () => {
  const head = new DataView(trackHead(90).buffer);
  const word = (at: number): string => String.fromCharCode(...new Uint8Array(head.buffer, at, 4));
  expect([word(0), word(8), word(12), word(36)]).toEqual(["RIFF", "WAVE", "fmt ", "data"]);
  expect(head.getUint16(20, true)).toBe(7); // WAVE_FORMAT_MULAW, RFC 2361
  expect([head.getUint16(22, true), head.getUint32(24, true), head.getUint16(34, true)]).toEqual([1, 8000, 8]);
  expect(head.getUint32(40, true)).toBe(90 * TRACK_HZ);
  expect(head.getUint32(4, true)).toBe(44 - 8 + 90 * TRACK_HZ);
});

test("one soak: it waits for what remains, then rings for a minute inside the track", () => {
  expect(TRACK_RINGS_S).toBeGreaterThanOrEqual(60);
  expect(stretches([in_s(1800)], NOW)).toEqual([
    { rings: false, s: 1800 },
    { rings: true, s: 60 },
  ]);
});

test("several soaks are one track with several bells, in their order", () => {
  expect(stretches([in_s(600), in_s(240)], NOW)).toEqual([
    { rings: false, s: 240 },
    { rings: true, s: 60 },
    { rings: false, s: 300 },
    { rings: true, s: 60 },
  ]);
});

test("two ends within a minute ring on until the later has rung for its minute", () => {
  const parts = stretches([in_s(100), in_s(130)], NOW);
  expect(parts.filter(({ rings }) => rings).reduce((sum, { s }) => sum + s, 0)).toBe(90);
  expect(parts.reduce((sum, { s }) => sum + s, 0)).toBe(190);
});

test("a track made anew in the middle of a ring rings for what is left of it; what has rung is left out", () => {
  expect(stretches([in_s(-20)], NOW)).toEqual([{ rings: true, s: 40 }]);
  expect(stretches([in_s(-61), in_s(-3600)], NOW)).toEqual([]);
});

test("a track that lags behind the clock was interrupted where it stopped; a late start is no interruption", () => {
  expect(interruptedAt(NOW, 420, in_s(900))).toBe(in_s(420));
  expect(interruptedAt(NOW, 897, in_s(900))).toBeNull();
});

test("until it was tried the line says so; afterwards only what was heard", () => {
  expect(whenLocked("runs", null)).toBe("not_tried");
  expect(whenLocked("runs", true)).toBe("rings");
  expect(whenLocked("runs", false)).toBe("failed");
});

test("no result of a trial makes a promise of a track that does not run", () => {
  expect(whenLocked("off", true)).toBe("silent");
  expect(whenLocked("touch_first", true)).toBe("touch_first");
  expect(whenLocked("interrupted", true)).toBe("interrupted");
});

test("a check counts only if nobody saw the page between its start and its bell", () => {
  expect(wasLocked(NOW, in_s(20))).toBe(true);
  expect(wasLocked(NOW, in_s(-1))).toBe(false);
});
