/** What does a press on the pedal do on this screen? The hook that screens use, and the ring that steps over them. */
import { effect, type ReadonlySignal, signal } from "@preact/signals";
import { useEffect, useRef } from "preact/hooks";
import { now } from "../clock";
import { at, text } from "../logbook/read";
import { logbook } from "../logbook/state";
import { keyStandsFor, learnedKeys } from "./keys";
import {
  DOUBLE_MS,
  isNew,
  type PedalDoes,
  type PedalKey,
  type PedalKeys,
  pressed,
  type Ring,
  restAfter_ms,
  rested,
  ring_shut,
} from "./rules";
import { speak } from "./voice";
import * as words from "./words";
import "./ring.css";

export interface RingItem {
  label: string;
  onTake: () => void;
  /** the `ring` of the control that gets the outline; absent: its label */
  ring?: string;
}

export interface Pedal {
  /** What stands in the edge. `onTakeOff` undoes it, when the press was the first of two; without it the press waits 0.6 s. */
  main?: { label: string; onTake: () => void; onTakeOff?: () => void } | null;
  /** In order; "nothing" is added at the end. */
  ring: readonly RingItem[];
  /** false: this screen leaves the pedal to what lies under it */
  active?: boolean;
  /** lies over every screen, also over those that come later: what rings */
  over?: boolean;
}

const outlined = signal<{ label: string; ring: string } | null>(null);
/** What is ringed now; null: the ring is shut. */
export const ringed: ReadonlySignal<{ label: string; ring: string } | null> = outlined;

/** The screens that want the pedal; the last one that came has it. */
const screens: { current: Pedal }[] = [];

let ring: Ring = ring_shut;
let resting: ReturnType<typeof setTimeout> | null = null;
let held: ReturnType<typeof setTimeout> | null = null;
let byTab = false;
let learns: ((key: string) => void) | null = null;

/** The next key that is pressed is handed over and does nothing else; the answer stops the waiting. */
export function learnNextKey(onKey: (key: string) => void): () => void {
  learns = onKey;
  return () => {
    if (learns === onKey) learns = null;
  };
}

export function usePedal(pedal: Pedal): void {
  const latest = useRef(pedal);
  latest.current = pedal;
  useEffect(() => {
    const screen = latest;
    screens.push(screen);
    shut();
    return () => {
      screens.splice(screens.indexOf(screen), 1);
      shut();
    };
  }, []);
}

function onTop(): Pedal | null {
  const active = screens.map((screen) => screen.current).filter((pedal) => pedal.active !== false);
  return active.findLast((pedal) => pedal.over === true) ?? active.at(-1) ?? null;
}

function itemsOf(pedal: Pedal): RingItem[] {
  return pedal.ring.length === 0 ? [] : [...pedal.ring, { label: words.nothing, onTake: () => undefined }];
}

/** What the press of a known key does; the screen on top decides. */
export function pressPedal(key: PedalKey, at_ms: number): void {
  const pedal = onTop();
  if (pedal === null) return;
  const main = document.querySelector<HTMLElement>(pedal.over ? ".ringing" : ".edge");
  if (key === "take" && ring.open === null && isNew(main?.dataset["since"], performance.now())) return;
  const items = itemsOf(pedal);
  const keys = text(logbook.row("device", logbook.device), "pedal");
  const after = pressed(
    ring,
    key,
    at_ms,
    items.length,
    (keys === "one" || keys === "two" ? keys : null) satisfies PedalKeys,
  );
  ring = after.ring;
  does(after.out, pedal, items);
}

function does(out: PedalDoes, pedal: Pedal, items: readonly RingItem[]): void {
  if (resting !== null) clearTimeout(resting);
  resting = null;
  const rest_ms = restAfter_ms(ring);
  if (rest_ms !== null) {
    resting = setTimeout(() => {
      const after = rested(ring);
      ring = after.ring;
      does(after.out, pedal, items);
    }, rest_ms);
  }
  if (out.does === "main") takeMain(pedal, items.length > 0);
  if (out.does === "ringed") {
    if (out.main_back) takeMainOff(pedal);
    const item = items[out.item];
    outlined.value = item ? { label: item.label, ring: item.ring ?? item.label } : null;
    if (item) speak(item.label);
    return;
  }
  outlined.value = null;
  if (out.does === "item") items[out.item]?.onTake();
}

function takeMain(pedal: Pedal, mayBeDouble: boolean): void {
  const main = pedal.main;
  if (!main) return;
  if (main.onTakeOff || !mayBeDouble) {
    main.onTake();
    return;
  }
  if (held !== null) return;
  held = setTimeout(() => {
    held = null;
    main.onTake();
  }, DOUBLE_MS);
}

function takeMainOff(pedal: Pedal): void {
  if (held !== null) clearTimeout(held);
  else pedal.main?.onTakeOff?.();
  held = null;
}

function shut(): void {
  if (resting !== null) clearTimeout(resting);
  if (held !== null) clearTimeout(held);
  resting = null;
  held = null;
  ring = ring_shut;
  outlined.value = null;
}

/** True: the key belongs to what has the focus (a field, or a control reached by Tab), not to the pedal. */
function belongsToFocus(target: EventTarget | null): boolean {
  if (!(target instanceof Element)) return false;
  if (
    target.closest(
      "input:not([type=radio]):not([type=checkbox]), textarea, select, [contenteditable=true], dialog",
    )
  )
    return true;
  return byTab && target.closest("button, a, input, summary, [tabindex]") !== null;
}

function keyDown(event: KeyboardEvent): void {
  if (event.key === "Tab") byTab = true;
  if (event.ctrlKey || event.altKey || event.metaKey) return;
  if (learns !== null && event.key !== "Tab" && event.key !== "Escape") {
    const learned = learns;
    learns = null;
    event.preventDefault();
    learned(event.key);
    return;
  }
  const key = keyStandsFor(event.key, learnedKeys(at(logbook.row("device", logbook.device), "keys")));
  if (key === null || onTop() === null || belongsToFocus(event.target)) return;
  event.preventDefault();
  if (!event.repeat) pressPedal(key, now());
}

function outline(): void {
  for (const each of document.querySelectorAll("[data-ringed]")) each.removeAttribute("data-ringed");
  const on = outlined.value;
  if (on === null) return;
  document.querySelector(`[data-ring="${CSS.escape(on.ring)}"]`)?.setAttribute("data-ringed", "");
}

/** The ringed thing in words, in the floor of the bench, where nothing can be touched. */
function sayInFloor(): void {
  const on = outlined.value;
  let line = document.getElementById("ringed");
  if (on === null) {
    line?.remove();
    return;
  }
  if (line === null) {
    line = document.createElement("p");
    line.id = "ringed";
    line.setAttribute("role", "status");
    document.body.append(line);
  }
  line.textContent = `${words.ring}: ${on.label}`;
}

if (typeof window !== "undefined") {
  window.addEventListener("keydown", keyDown);
  window.addEventListener(
    "pointerdown",
    () => {
      byTab = false;
    },
    { capture: true, passive: true },
  );
  effect(() => {
    outline();
    sayInFloor();
  });
}
