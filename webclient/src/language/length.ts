/** How does a length stand for this workshop: in millimetres, or in inches and thousandths? Of the screen only. */
import { signal } from "@preact/signals";
import { number, parseNumber } from "./format";
import { MM_PER_INCH } from "./rules";
import * as words from "./words";

export const inInches = signal(false);

/** "mm" or "in" */
export const lengthUnit = (): string => (inInches.value ? words.inch : words.mm);

/** The figure alone: 1.28, or in inches 0.0504. `digits`: of millimetres, exactly so many; absent: as many as it has. */
export const lengthFigure = (mm: number, digits?: number): string =>
  inInches.value ? number(mm / MM_PER_INCH, 4) : number(mm, digits);

/** "0.05 mm", "0.0020 in" */
export const length = (mm: number): string => `${lengthFigure(mm)} ${lengthUnit()}`;

/** What was typed, in millimetres; null where it is no number. */
export function readLength(typed: string): number | null {
  const said = parseNumber(typed);
  return said === null || !inInches.value ? said : Number((said * MM_PER_INCH).toFixed(4));
}

/** For a Stepper of millimetres: a hundredth a step, or half a thousandth of an inch. */
export const lengthSteps = () => ({
  unit: lengthUnit(),
  step: inInches.value ? 0.0127 : 0.01,
  shown: (mm: number): string => lengthFigure(mm, 2),
  read: readLength,
});
