/** A phone that is not let in: read the square, or type its six figures with wet fingers. What it holds stays. */
import { useEffect, useRef, useState } from "preact/hooks";
import { logbook } from "../logbook/state";
import { press } from "../wet_hands/press";
import { type Next, Page, Scribed } from "../workshop";
import { Camera, canRead } from "./Camera";
import { FIGURES, typed } from "./rules";
import { pair } from "./state";
import * as words from "./words";
import "./own_style";

const KEYS = ["1", "2", "3", "4", "5", "6", "7", "8", "9", "0"];

export interface JoinsProps {
  isWithdrawn: boolean;
  /** read from the square: tried at once */
  brought: string | null;
  onJoined: () => void;
  onExport: () => void;
}

export function Joins(p: JoinsProps) {
  const [figures, setFigures] = useState("");
  const [told, setTold] = useState<string | null>(null);
  const [isAsking, setAsking] = useState(false);
  const [camera, setCamera] = useState(false);
  const asking = useRef(false);
  const { unsent } = logbook.status.value;

  const join = async (code: string): Promise<void> => {
    if (asking.current) return;
    asking.current = true;
    setAsking(true);
    setTold(words.joining);
    const said = await pair(code);
    asking.current = false;
    setAsking(false);
    if (said.ok) {
      p.onJoined();
      return;
    }
    setFigures("");
    const why = words.not_joined[said.code] ?? words.not_joined_else;
    setTold(said.wait_s > 0 ? `${why} ${words.wait_s(said.wait_s)}` : why);
  };
  const key = (one: string): void => setFigures((before) => typed(before, one));

  useEffect(() => {
    if (p.brought !== null) void join(p.brought);
  }, [p.brought]);
  useEffect(() => {
    const byKeyboard = (event: KeyboardEvent): void => {
      if (event.ctrlKey || event.metaKey || event.altKey) return;
      key(event.key === "Backspace" ? "back" : event.key);
    };
    window.addEventListener("keydown", byKeyboard);
    return () => window.removeEventListener("keydown", byKeyboard);
  }, []);

  const left = FIGURES - figures.length;
  const open = (): void => {
    setTold(null);
    setCamera(true);
  };
  const next: Next =
    camera && figures === ""
      ? { label: words.shut_camera, sub: words.open_camera_sub, onTake: () => setCamera(false) }
      : canRead() && figures === ""
        ? { label: words.open_camera, sub: words.open_camera_sub, disabled: isAsking, onTake: open }
        : {
            label: words.join,
            sub: words.join_left(left),
            disabled: left > 0 || isAsking,
            onTake: () => void join(figures),
          };
  return (
    <Page
      title={p.isWithdrawn ? words.withdrawn : words.joins}
      sub={p.isWithdrawn ? words.withdrawn_sub : words.new_here}
      next={next}
    >
      <p class="pairing-order">{p.isWithdrawn ? words.withdrawn_order : words.read_square}</p>
      {!p.isWithdrawn && <p>{words.read_square_sub}</p>}
      {!canRead() && <p>{words.own_camera}</p>}
      {camera && (
        <>
          <p>{words.camera_looks}</p>
          <Camera
            onCode={(code) => {
              setCamera(false);
              void join(code);
            }}
            onFailed={() => {
              setCamera(false);
              setTold(words.camera_failed);
            }}
          />
        </>
      )}
      <p role="status" class={isAsking ? undefined : "alarm"}>
        {told}
      </p>
      <h2>{p.isWithdrawn ? words.type_it : words.or_type}</h2>
      <p class="heard" aria-live="polite">
        {words.figures_typed(figures)}
      </p>
      <div class="pairing-boxes" aria-hidden="true">
        {Array.from({ length: FIGURES }, (_, n) => (
          <span key={n}>{figures[n]}</span>
        ))}
      </div>
      <div class="pairing-pad">
        {KEYS.map((one) => (
          <button key={one} type="button" aria-label={words.key_of(one)} {...press(() => key(one))}>
            {one}
          </button>
        ))}
        <button type="button" class="pairing-back" disabled={figures === ""} {...press(() => key("back"))}>
          {words.take_back}
        </button>
      </div>
      <p>{words.then_key}</p>
      {(p.isWithdrawn || unsent > 0) && (
        <>
          <p>{words.waits_here(unsent)}</p>
          <Scribed wide label={words.save_file} sub={words.save_file_sub} onTake={p.onExport} />
        </>
      )}
    </Page>
  );
}
