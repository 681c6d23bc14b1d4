/** The soak in small: how warm, how it bent, how much water in a thermometer, and the band of water itself. */
import type { ComponentChildren } from "preact";
import { circle, col, LINE, line, OUTLINE, path, rect, Sheet, type Titled } from "./line";
import { PileStrips } from "./Pile";
import { hand, stroke } from "./wobble";

export type Habit = "warm" | "cold" | "overnight";

/** A bowl with two pieces: steam when warm, a moon when overnight. */
export function SoakBowl(p: Titled & { habit: Habit; width?: number | undefined }) {
  const steam = (x: number): string => `M${x} 2q-8 -9 0 -17t0 -16`;
  return (
    <Sheet w={88} h={110} x={-6} y={-34} width={p.width ?? 84} title={p.title}>
      {rect(2, 22, 72, 47, col("water"))}
      {rect(2, 48, 72, 21, col("water-deep"))}
      <PileStrips
        n={2}
        x={9}
        bottom={66}
        w={58}
        room={21}
        loose={0.6}
        wet={{ warm: 0.3, cold: 0.6, overnight: 1 }[p.habit]}
      />
      {path("M0 0V70H76V0", OUTLINE, 3.2)}
      {line(0, 22, 76, 22, OUTLINE, 2)}
      {p.habit === "warm" && path(steam(20) + steam(38) + steam(56), OUTLINE, 3)}
      {p.habit === "overnight" &&
        path("M52 -29a17 17 0 1 0 14 25a14 14 0 0 1 -14 -25z", "none", 0, col("ink"))}
    </Sheet>
  );
}

export type Mark = "good" | "still_hard" | "too_soft";

/** How did it cut? A piece that does not bend, one that does, one that hangs and frays. */
export function BendTest(p: Titled & { mark: Mark; width?: number | undefined }) {
  const band = (d: string, bark: string) => (
    <>
      {path(d, OUTLINE, 16)}
      {path(d, col(bark), 11)}
    </>
  );
  return (
    <Sheet w={96} h={62} x={-4} y={0} width={p.width ?? 84} title={p.title}>
      {p.mark === "still_hard" && (
        <>
          {rect(6, 16, 72, 15, col("bark"), OUTLINE, 2.6)}
          {path("M18 46v-10m24 10v-10m24 10v-10M13 41l5 -6l5 6M37 41l5 -6l5 6M61 41l5 -6l5 6", OUTLINE, 2.6)}
        </>
      )}
      {p.mark === "good" && band("M4 46Q43 -8 82 46", "bark-wet")}
      {p.mark === "too_soft" && (
        <>
          {band("M2 14Q40 10 44 32T78 50", "bark-wet")}
          {path("M76 48l12 -5M79 51l12 3M74 54l8 8", OUTLINE, 2.6)}
        </>
      )}
    </Sheet>
  );
}

/** `c`: degrees Celsius; the mark above is 60, the limit. */
export function Thermometer(p: Titled & { c: number; width?: number | undefined }) {
  const top = 112 - (Math.min(70, Math.max(0, p.c)) / 70) * 96;
  return (
    <Sheet w={44} h={146} x={-4} y={-4} width={p.width ?? 40} title={p.title}>
      {path("M9 9a9 9 0 0 1 18 0V104a18 18 0 1 1 -18 0Z", OUTLINE, 3, col("light"))}
      {line(18, top, 18, 118, "#8c2113", 8)}
      {circle(18, 119, 11, "#8c2113", "none", 0)}
      {line(27, 112 - (60 / 70) * 96, 36, 112 - (60 / 70) * 96, OUTLINE, 3)}
    </Sheet>
  );
}

/** A band of water across the screen, words and controls in it. */
export function WaterBand(p: { children: ComponentChildren }) {
  return (
    <div class="water-band">
      <svg class="wave" viewBox="0 0 360 26" preserveAspectRatio="none" aria-hidden="true">
        <path d={`M0 13${"q11 -7 22.500 0t22.500 0".repeat(8)}V26H0Z`} fill={col("water")} />
        <path
          d={`M0 13${"q11 -7 22.500 0t22.500 0".repeat(8)}`}
          fill="none"
          stroke={OUTLINE}
          stroke-width={3}
          vector-effect="non-scaling-stroke"
        />
      </svg>
      {p.children}
    </div>
  );
}

/** Left out to dry: a strip over two laths. */
export function Drying(p: Titled & { width?: number | undefined }) {
  const pen = hand(2);
  return (
    <Sheet w={84} h={48} x={-2} width={p.width ?? 78} title={p.title}>
      {rect(4, 20, 72, 11, col("bark-wet"), LINE, 2)}
      {rect(10, 32, 10, 12, col("wood"), OUTLINE, 2.2)}
      {rect(60, 32, 10, 12, col("wood"), OUTLINE, 2.2)}
      {path([20, 40, 60].map((x) => stroke(pen, x, 13, x + 5, 3, 1)).join(""), OUTLINE, 2.4)}
    </Sheet>
  );
}
