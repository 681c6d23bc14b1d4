/** When does this phone talk to the server, and what does it tell the maker about it? */

import { signal } from "@preact/signals";
import { now, nowText } from "../clock";
import type { Logbook } from "../logbook/state";
import { type Applied, apply } from "./apply";
import { ask, type Heard } from "./ask";
import { waitAfter } from "./backoff";
import { gather } from "./gather";
import { takeSnapshot } from "./snapshot";
import { alone, otherTabs, type Tabs } from "./tabs";
import type { Answer, Request } from "./wire";

const AFTER_CHANGE_MS = 400;
const WHILE_SEEN_MS = 60_000;
const CLOCK_TOLD_MS = 120_000;
/** while the server does not answer, a change brings the next try forward, but never nearer than this */
const NEAREST_MS = 3000;

const isSeen = () => typeof document === "undefined" || document.visibilityState === "visible";

export interface Means {
  fetch: typeof fetch;
  chance: () => number;
}

export class Exchange {
  /** Is this device let in, as the last answer had it? */
  readonly letIn = signal<"unknown" | "yes" | "not_paired" | "withdrawn">("unknown");
  private readonly tabs: Tabs;
  private timer: ReturnType<typeof setTimeout> | null = null;
  private due = Number.POSITIVE_INFINITY;
  private failures = 0;
  private lastTry = 0;
  private running: Promise<void> | null = null;
  private isWanted = false;

  constructor(
    private readonly logbook: Logbook,
    private readonly means: Means = { fetch: (...args) => fetch(...args), chance: Math.random },
    channel = "easelside",
  ) {
    this.tabs = otherTabs(({ touched }) => {
      void (touched ? logbook.reread(touched) : logbook.rereadAll()).catch(() => undefined);
    }, channel);
    logbook.onKept((touched) => {
      this.tabs.tell({ touched });
      this.soon(this.failures > 0 ? this.lastTry + NEAREST_MS - now() : AFTER_CHANGE_MS);
    });
  }

  /** Asks in so many ms, unless it will be sooner anyway. */
  soon(wait_ms: number): void {
    const due = now() + Math.max(0, wait_ms);
    // a timer that is overdue was held back by sleep, or the clock was moved: its wait may still be long
    const isOverdue = this.due < now();
    if (this.timer !== null && this.due <= due && !isOverdue) return;
    if (this.timer !== null) clearTimeout(this.timer);
    this.due = due;
    this.timer = setTimeout(
      () => {
        this.timer = null;
        void this.run();
      },
      Math.max(0, wait_ms),
    );
  }

  /** One exchange to its end: until nothing is left to send and nothing to fetch. */
  run(): Promise<void> {
    if (this.running) {
      this.isWanted = true;
      return this.running;
    }
    this.running = alone(() => this.untilThrough())
      .then((isThrough) => this.planNext(isThrough))
      .catch(() => this.planNext(false))
      .finally(() => {
        this.running = null;
        if (this.isWanted) {
          this.isWanted = false;
          this.soon(0);
        }
      });
    return this.running;
  }

  private planNext(isThrough: boolean): void {
    this.failures = isThrough ? 0 : this.failures + 1;
    if (isThrough) {
      if (isSeen()) this.soon(WHILE_SEEN_MS);
      return;
    }
    if (this.logbook.status.peek().lastExchange !== null) this.logbook.say({ exchange: "waiting" });
    this.soon(waitAfter(this.failures, isSeen(), this.means.chance()));
  }

  private async untilThrough(): Promise<boolean> {
    let most: number | undefined;
    for (;;) {
      this.lastTry = now();
      const request = await gather(this.logbook.store, nowText(), most);
      if (!request) return false;
      const sent = now();
      const heard = await ask(request, this.means.fetch);
      if (heard.is === "nothing") return false;
      this.letIn.value = heard.is === "shut" ? heard.why : "yes";
      if (heard.is === "shut") return false;
      if (heard.is === "refused") {
        if (!(await this.withoutRefused(request, heard))) return false;
        most = 1; // one by one, so that a single bad change is found and nothing waits behind it
        continue;
      }
      const { answer } = heard;
      this.tellClock(Date.parse(answer.now), sent, now());
      if (request.logbook === null && (await takeSnapshot(this.logbook, answer, this.means.fetch))) continue;
      const applied = await apply(this.logbook.store, request, answer, nowText());
      await this.show(applied, answer);
      if (applied.isStale || answer.restored) continue;
      if (isThrough(request, answer)) return true;
      if (!isAnswered(request, answer)) return false;
    }
  }

  /** A request refused as a whole: a single change is taken out and listed; several are tried one by one. */
  private async withoutRefused(request: Request, heard: Heard & { is: "refused" }): Promise<boolean> {
    const [only, second] = request.changes;
    if (second) return true;
    if (!only || request.logbook === null) return false;
    const answer: Answer = {
      ...{ logbook: request.logbook, restored: false, accepted: [], offered: [], changes: [] },
      ...{ cursor: request.after, more: false, end: request.end, now: nowText(), safe: 0 },
      refused: [{ id: only.id, problem: heard.problem, offer: false }],
    };
    await this.show(await apply(this.logbook.store, request, answer, nowText()), answer);
    return true;
  }

  private async show(applied: Applied, answer: Answer): Promise<void> {
    const { logbook } = this;
    if (applied.isAll) {
      await logbook.rereadAll();
      this.tabs.tell({ touched: null });
      logbook.ask({ id: "restored", kind: "restored", facts: {} });
      return;
    }
    if (applied.isStale) return;
    await logbook.reread(applied.touched);
    this.tabs.tell({ touched: applied.touched });
    for (const { id, change, problem } of applied.refused) logbook.askRefused(id, change, problem);
    for (const { change, lost } of applied.lost) {
      const facts = {
        record_kind: change.kind,
        record: change.record,
        mine: change.set,
        fields: Object.keys(lost),
      };
      logbook.ask({ id: `lost:${change.id}`, kind: change.back ? "take_back" : "lost", facts });
    }
    logbook.say({
      exchange: "ok",
      lastExchange: answer.now,
      slips: `${answer.logbook}/${answer.slips}`,
    });
  }

  private tellClock(server: number, sent: number, heard: number): void {
    if (!Number.isFinite(server)) return;
    const off = Math.round((sent + heard) / 2 - server);
    this.logbook.say({ clockOff_ms: off });
    if (Math.abs(off) < CLOCK_TOLD_MS) this.logbook.answered("clock");
    else this.logbook.ask({ id: "clock", kind: "clock", facts: { off_ms: off } });
  }

  /** Begins: now, after each change, on reconnecting, and whenever the page is seen again. */
  start(): () => void {
    const again = () => {
      if (!isSeen()) return;
      this.logbook.tryNow();
      this.soon(0);
    };
    const online = () => this.soon(0);
    window.addEventListener("online", online);
    window.addEventListener("focus", again);
    document.addEventListener("visibilitychange", again);
    this.soon(0);
    return () => {
      window.removeEventListener("online", online);
      window.removeEventListener("focus", again);
      document.removeEventListener("visibilitychange", again);
      if (this.timer !== null) clearTimeout(this.timer);
      this.tabs.close();
    };
  }
}

/** Was that all there is to send and to fetch? A full or cut batch has more behind it. */
function isThrough(request: Request, answer: Answer): boolean {
  return (
    !answer.more && request.logbook !== null && request.offers.length === 0 && request.changes.length === 0
  );
}

/** A server that passes over what it was sent, or tells of more and gives none, would be asked for ever. */
function isAnswered(request: Request, { accepted, offered, refused, cursor }: Answer): boolean {
  const sent = request.offers.length + request.changes.length;
  if (sent === 0) return cursor > request.after || request.logbook === null;
  return accepted.length + offered.length + refused.length > 0;
}
