/** How does this device hear at once that another one wrote something? One open line, while the page is seen. */

import type { AtMachine } from "./model";
import { readAtMachines } from "./model";
import { hearingSpread_ms, type LineEnd, lineAgain_ms } from "./rules";

/** The part of an EventSource that is used here. */
export interface Source {
  readonly readyState: number;
  addEventListener(name: string, hear: (event: MessageEvent<string>) => void): void;
  close(): void;
}

export interface LineMeans {
  open: (url: string) => Source;
  chance: () => number;
  /** this device's name in the logbook */
  device: () => string;
  /** something changed elsewhere: run an exchange in so many ms */
  changed: (wait_ms: number) => void;
  at: (all: AtMachine[]) => void;
  /** asked while there is no line */
  ask: () => void;
}

const CLOSED = 2;

export class Line {
  private source: Source | null = null;
  private again: ReturnType<typeof setTimeout> | null = null;

  constructor(private readonly means: LineMeans) {}

  open(): void {
    this.close();
    const source = this.means.open(`/api/events?device=${encodeURIComponent(this.means.device())}`);
    this.source = source;
    const hear = ({ data }: MessageEvent<string>): void => {
      if (this.source !== source) return;
      const at = readAtMachines(parsed(data));
      if (at !== null) this.means.at(at);
      this.means.changed(hearingSpread_ms(this.means.chance()));
    };
    source.addEventListener("now", hear);
    source.addEventListener("changed", hear);
    for (const end of ["replaced", "ended", "closing"] as const)
      source.addEventListener(end, () => this.over(source, end));
    // a browser opens a cut line again by itself; one that was refused is left to us
    source.addEventListener("error", () => {
      if (source.readyState === CLOSED) this.over(source, "refused");
    });
  }

  private over(source: Source, end: LineEnd): void {
    if (this.source !== source) return;
    this.close();
    if (end === "ended") this.means.changed(0); // the exchange learns why
    if (end === "refused" || end === "replaced") this.means.ask();
    this.again = setTimeout(() => this.open(), lineAgain_ms(end, this.means.chance()));
  }

  close(): void {
    if (this.again !== null) clearTimeout(this.again);
    this.again = null;
    this.source?.close();
    this.source = null;
  }
}

function parsed(data: string): unknown {
  try {
    return JSON.parse(data);
  } catch {
    return null;
  }
}

const LOCK = "easelside-line";

/** Of several tabs one holds the line, and only while it is seen; the others hear from it. Answers how to stop. */
export function whileSeen(line: Line): () => void {
  let letGo: (() => void) | null = null;
  const look = (): void => {
    const isSeen = document.visibilityState === "visible";
    if (isSeen && letGo === null) letGo = hold(line);
    if (!isSeen && letGo !== null) {
      letGo();
      letGo = null;
    }
  };
  document.addEventListener("visibilitychange", look);
  look();
  return () => {
    document.removeEventListener("visibilitychange", look);
    letGo?.();
  };
}

function hold(line: Line): () => void {
  if (!("locks" in navigator)) {
    line.open();
    return () => line.close();
  }
  const waiting = new AbortController();
  let release: (() => void) | null = null;
  let isOver = false;
  navigator.locks
    .request(LOCK, { signal: waiting.signal }, () => {
      if (isOver) return;
      line.open();
      return new Promise<void>((done) => {
        release = done;
      });
    })
    .catch(() => undefined); // put away before its turn came
  return () => {
    isOver = true;
    line.close();
    if (release) release();
    else waiting.abort();
  };
}
