/** A pencil's tick. */
export function Tick() {
  return (
    <svg class="tick" viewBox="0 0 34 34" aria-hidden="true">
      <path
        d="M5 17Q12 23 14 29Q20 12 33 1"
        fill="none"
        stroke="currentColor"
        stroke-width="5.4"
        stroke-linecap="round"
      />
    </svg>
  );
}
