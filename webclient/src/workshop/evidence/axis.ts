/** Where do the marks of an axis stand, and how far along it is a value? Pure. */

export interface Axis {
  label: string;
  from: number;
  to: number;
  /** in powers of ten; `from` and `to` above 0 */
  isLog?: boolean | undefined;
  /** given where round numbers are not the natural ones (half hours, days) */
  ticks?: readonly number[] | undefined;
  say?: ((value: number) => string) | undefined;
}

/** 0 at `from`, 1 at `to`; an axis without length puts all in its middle. */
export function along(axis: Axis, value: number): number {
  const as = axis.isLog ? Math.log : (n: number) => n;
  const length = as(axis.to) - as(axis.from);
  return length === 0 ? 0.5 : (as(value) - as(axis.from)) / length;
}

/** Round numbers within an axis, about `wanted` of them: steps of 1, 2 or 5 times a power of ten. */
export function ticksOf(axis: Axis, wanted = 5): number[] {
  if (axis.ticks) return axis.ticks.filter((tick) => tick >= axis.from && tick <= axis.to);
  if (axis.isLog) return logTicks(axis);
  const rough = (axis.to - axis.from) / wanted;
  if (!(rough > 0) || !Number.isFinite(rough)) return [axis.from];
  const power = 10 ** Math.floor(Math.log10(rough));
  const step = ([1, 2, 5].find((n) => n * power >= rough * 0.999) ?? 10) * power;
  const first = Math.ceil(axis.from / step - 1e-9);
  const last = Math.floor(axis.to / step + 1e-9);
  return Array.from({ length: last - first + 1 }, (_, i) => Number(((first + i) * step).toPrecision(12)));
}

function logTicks({ from, to }: Axis): number[] {
  const found: number[] = [];
  for (let power = 10 ** Math.floor(Math.log10(from)); power <= to; power *= 10) {
    for (const n of [1, 2, 5]) if (n * power >= from && n * power <= to) found.push(n * power);
  }
  return found;
}
