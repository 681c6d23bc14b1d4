/** Rows and columns, where there is room for them (laptop); on a phone the table scrolls within itself. */
import type { ComponentChildren } from "preact";
import "./parts.css";

export interface Column {
  head: string;
  /** figures stand right */
  figure?: boolean | undefined;
}

export function Table(p: {
  caption: string;
  columns: readonly Column[];
  rows: readonly { key: string; cells: readonly ComponentChildren[]; ringed?: boolean | undefined }[];
  quietCaption?: boolean | undefined;
}) {
  return (
    // biome-ignore lint/a11y/noNoninteractiveTabindex: what scrolls must be reached by keyboard
    <section class="table-room" aria-label={p.caption} tabIndex={0}>
      <table class="table">
        <caption class={p.quietCaption ? "heard" : undefined}>{p.caption}</caption>
        <thead>
          <tr>
            {p.columns.map((c) => (
              <th key={c.head} scope="col" class={c.figure ? "figure" : undefined}>
                {c.head}
              </th>
            ))}
          </tr>
        </thead>
        <tbody>
          {p.rows.map((row) => (
            <tr key={row.key} class={row.ringed ? "ringed" : undefined}>
              {row.cells.map((cell, i) =>
                i === 0 ? (
                  <th key={i} scope="row">
                    {cell}
                  </th>
                ) : (
                  <td key={i} class={p.columns[i]?.figure ? "figure" : undefined}>
                    {cell}
                  </td>
                ),
              )}
            </tr>
          ))}
        </tbody>
      </table>
    </section>
  );
}
