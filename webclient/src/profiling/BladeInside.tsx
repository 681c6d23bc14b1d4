/** At which piece did another blade go in? Said with a batch that is written up, or by itself. */
import { useSignal } from "@preact/signals";
import { usePedal } from "../wet_hands/pedal";
import { Choice, Page } from "../workshop";
import { Figure } from "./Figure";
import * as L from "./later_words";
import * as words from "./words";

/** Which blade went in, and before which piece? `first`: the place of the first of these pieces in its batch. */
export function BladeInside(p: {
  first?: number;
  pieces: number;
  blades: readonly { value: string; label: string }[];
  blade: string | null;
  at: number;
  onBlade: (id: string) => void;
  onAt: (piece: number) => void;
}) {
  const { first = 1, at } = p;
  const end = first + Math.max(1, p.pieces);
  return (
    <>
      <Choice legend={L.bladeIn} tiles options={p.blades} value={p.blade} onChange={p.onBlade} />
      <Figure
        label={L.atPiece}
        value={at}
        likely={[1, 4, 6, 8, 10, 12, 15, 18, 20, 24, 27, 30].filter((n) => n >= first && n < end)}
        max={end - 1}
        onChange={(n) => p.onAt(Math.max(first, n))}
      />
      <p>{L.stays(at - first, Math.max(0, end - at))}</p>
    </>
  );
}

/** "I changed the blade at piece 12 and forgot to say." */
export function BladeForgotten(p: {
  title: string;
  first: number;
  pieces: number;
  start: number;
  blades: readonly { value: string; label: string }[];
  onWrite: (blade: string, piece: number) => void;
  onBack: () => void;
}) {
  const blade = useSignal<string | null>(p.blades.length === 1 ? (p.blades[0]?.value ?? null) : null);
  const at = useSignal(p.start);
  usePedal({ main: null, ring: [] });
  const id = blade.value;
  return (
    <Page
      title={L.bladeToo}
      sub={p.title}
      bench
      next={{
        label: L.writeChange,
        sub: words.countsFollow,
        disabled: id === null,
        onTake: () => {
          if (id) p.onWrite(id, at.value);
        },
      }}
      extra={[{ label: words.leave, onTake: p.onBack }]}
    >
      <BladeInside
        first={p.first}
        pieces={p.pieces}
        blades={p.blades}
        blade={id}
        at={at.value}
        onBlade={(one) => {
          blade.value = one;
        }}
        onAt={(n) => {
          at.value = n;
        }}
      />
    </Page>
  );
}
