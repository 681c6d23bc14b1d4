/** The small drawings of the set-up's rows: edge, scrap, drop of oil, template, gouge of a lot, the rows that stay. */
import { circle, col, LINE, line, OUTLINE, path, rect, Sheet, type Titled } from "./line";

type Mark = Titled & { width?: number | undefined };

export function EdgeMark(p: Mark) {
  return (
    <Sheet w={64} h={50} x={-3} y={-1} width={p.width ?? 60} title={p.title}>
      {rect(6, 1, 46, 24, col("steel-dark"), OUTLINE, 2.4)}
      {rect(-1, 30, 60, 16, col("rule"), OUTLINE, 2)}
      {line(6, 27.5, 52, 27.5, col("brass"), 2)}
    </Sheet>
  );
}

export function OilDrop(p: Mark) {
  return (
    <Sheet w={48} h={58} x={4} y={-3} width={p.width ?? 44} title={p.title}>
      {path("M28 -1C44 20 46 30 40 40A17 17 0 0 1 16 40C10 30 12 20 28 -1Z", OUTLINE, 2.6, col("oil"))}
      {path("M20 36q2 7 8 9", col("light"), 2.4)}
    </Sheet>
  );
}

/** The curve that the carriage follows. */
export function TemplateCurve(p: Mark) {
  return (
    <Sheet w={68} h={44} x={-4} width={p.width ?? 62} title={p.title}>
      {path("M0 40V12C14 12 18 26 30 27S48 12 60 12V40Z", OUTLINE, 2.4, col("steel"))}
      {circle(9, 32, 3.5, col("wall"), OUTLINE, 1.8)}
      {circle(51, 32, 3.5, col("wall"), OUTLINE, 1.8)}
      {circle(30, 17, 8, col("brass"), OUTLINE, 2.2)}
    </Sheet>
  );
}

/** The end of a gouged piece, and where its thickness is measured. */
export function LotGauge(p: Mark) {
  return (
    <Sheet w={68} h={52} x={-4} y={0} width={p.width ?? 62} title={p.title}>
      {path("M-1 40A34 34 0 0 1 59 40L51 46A25 25 0 0 0 7 46Z", OUTLINE, 2.4, col("bark"))}
      {path("M29 2V18M24 12l5 7l5 -7M29 50V33M24 39l5 -7l5 7", col("red"), 2.4)}
    </Sheet>
  );
}

/** A shaving from a scrap held in the machine. */
export function ScrapChip(p: Mark & { chip: "thin" | "shred" | "none" }) {
  const d = {
    shred: "M2 20q10 -16 20 -4t18 -8t14 8t16 -6",
    thin: "M4 24c26 6 48 -2 44 -14c-3 -9 -20 -6 -16 4c2 5 9 3 9 -1",
    none: "M4 24h62",
  }[p.chip];
  return (
    <Sheet w={76} h={36} x={-2} y={-2} width={p.width ?? 74} title={p.title}>
      {p.chip === "none" ? (
        path(d, OUTLINE, 3)
      ) : (
        <>
          {path(d, OUTLINE, 7)}
          {path(d, col("pared"), 3.4)}
        </>
      )}
    </Sheet>
  );
}

/** The pivot of the arm. */
export function PivotMark(p: Mark) {
  return (
    <Sheet w={68} h={52} x={-4} y={-2} width={p.width ?? 62} title={p.title}>
      {path("M22 22L58 6l4 9L30 34Z", OUTLINE, 2.4, col("steel"))}
      {circle(21, 29, 17, col("steel-dark"), OUTLINE, 2.6)}
      {circle(21, 29, 6, col("brass"), OUTLINE, 2.2)}
    </Sheet>
  );
}

/** n rows that stay as they were. */
export function SameRows(p: Mark & { n: number }) {
  return (
    <Sheet w={66} h={50} x={-3} width={p.width ?? 60} title={p.title}>
      {Array.from({ length: p.n }, (_, k) =>
        rect(0, 2 + (k * 46) / p.n, 60, Math.min(7, 28 / p.n), col("bark"), LINE, 1.6),
      )}
    </Sheet>
  );
}
