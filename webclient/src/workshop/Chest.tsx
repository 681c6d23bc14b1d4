/** Where is everything? The Chest: its front in the bench edge, its drawers above it, on a laptop a column at the left. */
import { useEffect, useRef } from "preact/hooks";
import { go, href, route } from "../route";
import { press } from "../wet_hands/press";
import { chest, chestShown, type Drawer } from "./chest_state";
import { DrawerInside } from "./DrawerInside";
import { type Next, NextThing } from "./NextThing";
import { Scribed } from "./Scribed";
import * as words from "./words";
import "./chest.css";

export function ChestFront(p: { next?: Next | undefined }) {
  return (
    <>
      <button
        type="button"
        class="chest-front"
        data-since="0"
        aria-haspopup="dialog"
        aria-expanded={chestShown.value}
        {...press(() => {
          chestShown.value = true;
        })}
      >
        <span class="chest-knob" aria-hidden="true" />
        <span>{words.chest}</span>
      </button>
      {chestShown.value && <ChestOpened next={p.next?.big ? undefined : p.next} />}
    </>
  );
}

/** A real dialog: the browser keeps the focus within it, Escape shuts it, and the focus goes back to the front. */
function ChestOpened(p: { next?: Next | undefined }) {
  const dialog = useRef<HTMLDialogElement>(null);
  useEffect(() => {
    const box = dialog.current;
    box?.showModal();
    return () => box?.close();
  }, []);
  const shut = (): void => {
    chestShown.value = false;
  };
  return (
    <dialog ref={dialog} class="chest-opened" data-since="0" aria-labelledby="chest-title" onClose={shut}>
      <div class="chest-inside">
        <header class="chest-head">
          <h2 id="chest-title">{words.theChest}</h2>
          <p>{words.chestLine}</p>
        </header>
        <ul class="chest-drawers">
          {chest.value.map((d) => (
            <li key={d.room}>
              <DrawerFront drawer={d} onTake={shut} />
            </li>
          ))}
        </ul>
        <div class="edge chest-edge">
          <div class="edge-row">
            <Scribed tone="light" label={words.shut} onTake={shut} />
            {p.next && (
              <NextThing
                {...p.next}
                onTake={() => {
                  shut();
                  p.next?.onTake();
                }}
              />
            )}
          </div>
          <div class="edge-floor" aria-hidden="true" />
        </div>
      </div>
    </dialog>
  );
}

/** Shown by the style sheet from 1000 px on. */
export function ChestColumn() {
  return (
    <nav class="chest-column" aria-label={words.rooms}>
      <ul>
        {chest.value.map((d) => (
          <li key={d.room}>
            <DrawerFront drawer={d} />
          </li>
        ))}
      </ul>
    </nav>
  );
}

function DrawerFront(p: { drawer: Drawer; onTake?: (() => void) | undefined }) {
  const { room, label, line, open } = p.drawer;
  const here = route.value.room === room;
  const handlers = press(() => {
    p.onTake?.();
    go(room);
  });
  const onClick = (event: MouseEvent): void => {
    if (event.ctrlKey || event.metaKey || event.shiftKey) return;
    event.preventDefault();
    handlers.onClick(event);
  };
  return (
    <a
      class={open ? "drawer drawer-open" : "drawer"}
      href={href(room)}
      aria-current={here ? "page" : undefined}
      {...handlers}
      onClick={onClick}
    >
      {open && <DrawerInside room={room} />}
      <span class="drawer-card">
        <strong>{label}</strong>
        {/* a long name may break: no drawer grows at its neighbour's cost */}
        <span class="drawer-line">{line.replace(/\S{12}(?=\S)/g, "$&\u200b")}</span>
        {open && <span class="heard">, {words.wantsYou}</span>}
      </span>
      <span class="drawer-knob" aria-hidden="true" />
    </a>
  );
}
