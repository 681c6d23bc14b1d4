/** Which of the bench's faces is up: the count, the turns, the question after a loss, the pause. */
import { useEffect } from "preact/hooks";
import { keepAwake, letSleep } from "../wet_hands/wake_lock";
import { Bench } from "./Bench";
import { Lost } from "./Lost";
import type { OnBench } from "./on_bench";
import { type Asking, type Meanwhile, Paused } from "./Paused";
import { askingSeen, lookOnBench } from "./state";
import { Turning } from "./Turning";
import "./screen.css";
import "./large.css";

export function BenchScreen(p: { on: OnBench; meanwhile: readonly Meanwhile[]; asking: readonly Asking[] }) {
  const { on } = p;
  useEffect(() => {
    keepAwake("bench");
    return () => letSleep("bench");
  }, []);
  useEffect(() => lookOnBench(on.session), [on.session?.id]);
  if (on.session?.pausedAt) return <Paused on={on} meanwhile={p.meanwhile} asking={p.asking} />;
  if (askingSeen.value) return <Lost on={on} />;
  if (on.countsTurns && on.left !== 0) return <Turning on={on} />;
  return <Bench on={on} />;
}
