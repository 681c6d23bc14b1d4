/** "2 3/8" as it is written on a slip, the fraction drawn small. */
import "./parts.css";

/** `eighths` 0 to 7; reduced: 4 is 1/2. Heard as "2 3/8". */
export function Fraction(p: { whole: number; eighths: number }) {
  const [top, below] =
    p.eighths % 4 === 0 ? [p.eighths / 4, 2] : p.eighths % 2 === 0 ? [p.eighths / 2, 4] : [p.eighths, 8];
  if (p.eighths === 0) return <span class="fraction">{p.whole}</span>;
  const said = `${p.whole ? `${p.whole} ` : ""}${top}/${below}`;
  return (
    <span class="fraction">
      <span class="heard">{said}</span>
      <span aria-hidden="true">
        {p.whole > 0 && p.whole}
        <sup>{top}</sup>⁄<sub>{below}</sub>
      </span>
    </span>
  );
}
