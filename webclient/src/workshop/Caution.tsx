/** What to beware of: a plain order first, then why. */
import "./parts.css";

export function Caution(p: { order: string; text?: string | undefined }) {
  return (
    <p class="caution">
      <svg viewBox="0 0 42 38" width="42" aria-hidden="true">
        <path d="M2 36L21 3L40 36Z" fill="none" stroke="currentColor" stroke-width="3.2" />
        <path d="M21 14v11m0 4v3.500" stroke="currentColor" stroke-width="4" />
      </svg>
      <span>
        <strong>{p.order}</strong>
        {p.text ? (
          <>
            {" "}
            <span>{p.text}</span>
          </>
        ) : null}
      </span>
    </p>
  );
}
