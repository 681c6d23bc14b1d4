/** What does a locked phone hear, and what is known of it? Loaded only where a phone may be locked. */
import type { BenchBell, PushedDevice } from "./model";
import { TRACK_RINGS_S, type Track } from "./rules";

/** Noise that a browser takes for sound, then ringing, in one recording that needs no script at its end. */
export const TRACK_HZ = 8000;

/** Half the noise's width, of full scale: -60 dBFS. Below -72 Chromium takes a track for silence and freezes its page. */
const FLOOR = 0.0017;

/** ITU-T G.711 mu-law of a sample from -1 to 1. */
export function muLaw(sample: number): number {
  const biased = Math.min(Math.abs(sample) * 32768, 32635) + 132;
  const exponent = Math.floor(Math.log2(biased)) - 7;
  return ~((sample < 0 ? 128 : 0) | (exponent << 4) | ((biased >> (exponent + 3)) & 15)) & 255;
}

/** One second of the track: the noise, over it a struck bar where it rings. */
export function trackSecond(rings: boolean): Uint8Array<ArrayBuffer> {
  let seed = 1; // Park and Miller's generator
  return Uint8Array.from({ length: TRACK_HZ }, (_, n) => {
    seed = (seed * 16807) % 2147483647;
    const turn = (2 * Math.PI * n) / TRACK_HZ;
    const bar = Math.exp((-4 * n) / TRACK_HZ) * (0.6 * Math.sin(880 * turn) + 0.3 * Math.sin(2428 * turn));
    return muLaw((seed / 1073741823.5 - 1) * FLOOR + (rings ? bar : 0));
  });
}

/** The head of a WAV file: mu-law, mono, so many seconds. */
export function trackHead(seconds: number): Uint32Array<ArrayBuffer> {
  const data = seconds * TRACK_HZ;
  const [riff, wave, fmt, rest] = [0x46464952, 0x45564157, 0x20746d66, 0x61746164];
  return Uint32Array.of(riff, 36 + data, wave, fmt, 16, 0x10007, TRACK_HZ, TRACK_HZ, 0x80001, rest, data);
}

/** Waiting and ringing by turns, whole seconds, from `now` to the end of the last bell. Bells that have rung are left out. */
export function stretches(bells: readonly number[], now: number): { rings: boolean; s: number }[] {
  const out: { rings: boolean; s: number }[] = [];
  let until = 0;
  for (const bell of [...bells].sort((a, b) => a - b)) {
    const from = Math.ceil((bell - now) / 1000);
    if (from + TRACK_RINGS_S <= until) continue;
    if (from > until) out.push({ rings: false, s: from - until });
    const begins = Math.max(from, until);
    until = from + TRACK_RINGS_S;
    out.push({ rings: true, s: until - begins });
  }
  return out;
}

/** When did it stop, if it lags behind the clock? `began`: its first second; `heard_s`: how far it came. */
export function interruptedAt(began: number, heard_s: number, now: number): number | null {
  const until = began + heard_s * 1000;
  return now - until > 5000 ? Math.round(until) : null;
}

/** Was the phone dark when it was to ring? Only then does an answer say anything. */
export const wasLocked = (ends: number, seen_since: number): boolean => seen_since >= ends;

/** What a locked phone does, as far as is known: `rang` null means that nobody has tried it on this phone. */
export type Locked = "silent" | "touch_first" | "interrupted" | "not_tried" | "rings" | "failed";

export function whenLocked(track: Track, rang: boolean | null): Locked {
  if (track === "touch_first" || track === "interrupted") return track;
  if (track === "off") return "silent";
  return rang === null ? "not_tried" : rang ? "rings" : "failed";
}

/** What is known of the layers beyond this phone. `heard`, `came`: what the maker answered when it was tried; null: never tried. */
export interface Beyond {
  /** the workshop answers, and nothing that is in the water here waits to be sent there */
  knows: boolean;
  bell: BenchBell | null;
  heard: boolean | null;
  /** this phone's subscription as the workshop has it; null: it has none, or this browser has none */
  mine: PushedDevice | null;
  came: boolean | null;
}

export type Also = "bench" | "push";

/** Which of them will call as well: only what was heard or came when it was last tried, and has not failed since. */
export function alsoCalls(b: Beyond): Also[] {
  if (!b.knows) return [];
  const bench = b.bell?.there === true && b.bell.works !== false && b.heard === true;
  const push = b.mine !== null && b.mine.went_wrong === null && b.came === true;
  return [...(bench ? (["bench"] as const) : []), ...(push ? (["push"] as const) : [])];
}
