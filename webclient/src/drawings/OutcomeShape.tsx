/** How did the piece end? A whole strip, one with a corner off, a broken one: ink, no colour. */
import { path, Sheet, type Titled } from "./line";

export type Outcome = "good" | "second" | "lost";

/** 60 by 13, in the colour of the words beside it. */
export function OutcomeMark(p: {
  outcome: Outcome;
  x?: number | undefined;
  y?: number | undefined;
  w?: number | undefined;
}) {
  const w = p.w ?? 60;
  const h = w / 4.6;
  const ink = (d: string) => path(d, "none", 0, "currentColor");
  return (
    <g class={`piece piece-${p.outcome}`} transform={`translate(${p.x ?? 0} ${p.y ?? 0})`}>
      {p.outcome === "good" && ink(`M0 0h${w}v${h}h${-w}z`)}
      {p.outcome === "second" && ink(`M0 0h${w * 0.76}l${w * 0.24} ${h * 0.8}v${h * 0.2}h${-w}z`)}
      {p.outcome === "lost" && (
        <>
          {ink(`M0 0h${w * 0.44}l${-w * 0.1} ${h * 0.5}l${w * 0.08} ${h * 0.5}h${-w * 0.42}z`)}
          <g transform={`rotate(14 ${w * 0.75} ${h})`}>
            {ink(`M${w * 0.56} 0h${w * 0.44}v${h}h${-w * 0.42}l${w * 0.06} ${-h * 0.5}z`)}
          </g>
        </>
      )}
    </g>
  );
}

export function OutcomeShape(p: Titled & { outcome: Outcome; width?: number | string | undefined }) {
  return (
    <Sheet w={62} h={17} x={-1} y={-1} width={p.width ?? 52} title={p.title}>
      <OutcomeMark outcome={p.outcome} />
    </Sheet>
  );
}
