/** The only place where the parts meet: opens the logbook, finds the room of the address, starts the rest. */

import { effect, signal } from "@preact/signals";
import { Component, type ComponentChildren, type ComponentType, render } from "preact";
import { logbook } from "./logbook/state";
import * as words from "./offline/words";
import { go, href, route } from "./route";

import.meta.glob("./look/*.css", { eager: true });

type Load = () => Promise<{ default: ComponentType }>;

/** A room has a place once its page is there: bench_day/set_up_page.tsx is "set-up". */
const pages = new Map<string, Load>(
  Object.entries(import.meta.glob<{ default: ComponentType }>("./bench_day/*_page.tsx")).map(
    ([path, load]) => [path.slice("./bench_day/".length, -"_page.tsx".length).replaceAll("_", "-"), load],
  ),
);

/** What runs beside every room (alarms, the Chest's lines), loaded once the first room stands. */
const beside = import.meta.glob<{ default: () => void }>("./bench_day/beside.ts");

const screen = signal<{ Page: ComponentType } | { problem: string } | null>(null);

async function show(room: string): Promise<void> {
  const load = pages.get(room) ?? pages.get("today");
  if (!load) return;
  try {
    const { default: Page } = await load();
    if (room !== "today") await logbook.whole;
    if (route.peek().room === room) screen.value = { Page };
  } catch {
    screen.value = { problem: words.roomMissing };
  }
}

/** A screen that breaks is told of, with the way back; what was written is in the store. */
class Caught extends Component<{ children: ComponentChildren }, { broke: boolean }> {
  override state = { broke: false };

  static override getDerivedStateFromError() {
    return { broke: true };
  }

  override render() {
    if (!this.state.broke) return this.props.children;
    return (
      <p role="alert">
        {words.roomBroke} <a href={href("today")}>{words.toToday}</a>
      </p>
    );
  }
}

function Screen() {
  const on = screen.value;
  if (!on) return null;
  if ("problem" in on) return <p role="alert">{on.problem}</p>;
  return (
    <Caught key={route.value.room}>
      <on.Page />
    </Caught>
  );
}

/** On its first visit a phone asks for the records before it says that nothing is set up. */
async function opened(onMost?: () => void): Promise<void> {
  await logbook.open(onMost);
  if (logbook.hasLogbook || !navigator.onLine) return;
  const { exchange, letIn } = await import("./exchange/state");
  await exchange.run();
  if (letIn.peek() === "not_paired" && route.peek().room === "today") go("phones");
}

/** A store that does not open (an older version in another tab holds it) must not leave the screen empty. */
const PATIENCE_MS = 2000;

/** Today's answer needs no pieces and no tallies, unless they are all there is. */
const isBegun = (): boolean =>
  ["soak", "session", "batch", "machine"].some((kind) => logbook.rows(kind).length > 0);

async function start(): Promise<void> {
  const most = new Promise<void>((done) => {
    const patient = new Promise((waited) => setTimeout(waited, PATIENCE_MS));
    logbook.whole = Promise.race([opened(() => isBegun() && done()), patient]);
    void logbook.whole.then(() => done());
  });
  void import("./bench_day/today_late"); // on its way while the store is read
  await most;
  const bench = document.getElementById("bench");
  if (bench) render(<Screen />, bench);
  effect(() => void show(route.value.room));
  await logbook.whole;
  void import("./offline/start").then(({ startBeside }) => startBeside());
  for (const load of Object.values(beside)) void load().then((module) => module.default());
}

void start();
