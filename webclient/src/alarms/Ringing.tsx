/** It is ready: a slip that lies over any screen until it is silenced. */

import { useMemo } from "preact/hooks";
import { usePedal } from "../wet_hands/pedal";
import { Scribed } from "../workshop";
import * as words from "./words";
import "./ringing.css";

export interface RingingProps {
  title: string;
  line: string;
  /** words of what can be done about it: take out, or put in */
  take: string;
  onTake: () => void;
  onSilence: () => void;
  onMore: () => void;
}

export function Ringing(p: RingingProps) {
  usePedal({
    over: true,
    main: { label: words.silence, onTake: p.onSilence },
    ring: [
      { label: p.take, onTake: p.onTake, ring: "ringing_take" },
      { label: words.more, onTake: p.onMore, ring: "ringing_more" },
    ],
  });
  const since = useMemo(() => performance.now(), []);
  return (
    <section class="ringing" data-since={since} role="alert" aria-label={p.title}>
      <h2>{p.title}</h2>
      <p>{p.line}</p>
      <div class="ringing-row">
        <Scribed label={words.silence} onTake={p.onSilence} ring="ringing_silence" />
        <Scribed label={p.take} onTake={p.onTake} ring="ringing_take" />
        <Scribed label={words.more} onTake={p.onMore} ring="ringing_more" />
      </div>
    </section>
  );
}
