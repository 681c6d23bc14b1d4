/** Where does each batch lie? A line for every piece, in the column of the stage where it is now; grey: how many passed. */
import type { ComponentChildren } from "preact";
import { number } from "../language/format";
import { col, OUTLINE, path, rect, Sheet, type Titled } from "./line";
import "./drawings.css";
import { drawn } from "./wobble";

export type StageCode = "gouged" | "profiled" | "shaped" | "formed" | "finished";

/** The piece as it looks after a stage. */
export function StageMark(p: Titled & { stage: StageCode; width?: number | undefined }) {
  const flat = rect(0, 4, 44, 8, col("bark"), OUTLINE, 2);
  return (
    <Sheet w={48} h={20} x={-2} y={-2} width={p.width ?? 46} title={p.title}>
      {p.stage === "gouged" && flat}
      {p.stage === "profiled" && (
        <>
          {flat}
          {rect(11, 5, 22, 6, col("pared"))}
        </>
      )}
      {p.stage === "shaped" &&
        path("M0 4h10l12 2l12 -2h10v8h-10l-12 -2l-12 2h-10z", OUTLINE, 2, col("pared"))}
      {p.stage === "formed" && (
        <>
          {path("M10 12v-4q0 -4 4 -4h8l10 -4v16l-10 -4z", OUTLINE, 2, col("pared"))}
          {path("M18 4v8m5 -8v8", OUTLINE, 1.6)}
        </>
      )}
      {p.stage === "finished" && (
        <>
          {path("M2 12v-5q0 -3 4 -3h10l14 -5v16l-14 -3z", OUTLINE, 2, col("pared"))}
          {path("M3 8h13", "#8c2113", 7)}
        </>
      )}
    </Sheet>
  );
}

/** n lines in two columns, one a piece. */
export function PieceLines(p: Titled & { n: number; width?: number | undefined }) {
  const n = drawn(p.n);
  const rows = Math.ceil(n / 2);
  const step = Math.min(3.6, 54 / Math.max(1, rows));
  const h = rows * step + 1;
  return (
    <Sheet w={46} h={h} width={p.width ?? 46} title={p.title} kind="lines">
      {Array.from({ length: n }, (_, i) => (
        <rect
          key={i}
          class="piece"
          x={(i % 2) * 23.5}
          y={h - step - Math.floor(i / 2) * step}
          width={21.5}
          height={step * 0.66}
          fill={col("bark-line")}
        />
      ))}
    </Sheet>
  );
}

export interface BatchRow {
  key: string;
  /** the bag's label, or a control that opens it */
  label: ComponentChildren;
  /** for each stage: how many came through it good, and how many of them lie there now */
  stages: readonly { passed: number | null; here: number }[];
}

export function StageColumns(p: {
  caption: string;
  corner: string;
  stages: readonly { code: StageCode; label: string }[];
  rows: readonly BatchRow[];
}) {
  return (
    // biome-ignore lint/a11y/noNoninteractiveTabindex: what scrolls must be reached by keyboard
    <section class="stages-room" aria-label={p.caption} tabIndex={0}>
      <table class="stages">
        <caption class="heard">{p.caption}</caption>
        <thead>
          <tr>
            <th scope="col">
              <span class="heard">{p.corner}</span>
            </th>
            {p.stages.map((s) => (
              <th key={s.code} scope="col">
                <StageMark stage={s.code} width={44} />
                {s.label}
              </th>
            ))}
          </tr>
        </thead>
        <tbody>
          {p.rows.map((row) => (
            <tr key={row.key}>
              <th scope="row">{row.label}</th>
              {row.stages.map((s, i) => (
                <td key={i}>
                  {s.here > 0 ? (
                    <>
                      <PieceLines n={s.here} />
                      <strong>{number(s.here)}</strong>
                    </>
                  ) : (
                    s.passed != null && number(s.passed)
                  )}
                </td>
              ))}
            </tr>
          ))}
        </tbody>
      </table>
    </section>
  );
}
