/** How much has this edge cut already, before anything was written down? */
import { useSignal } from "@preact/signals";
import { usePedal } from "../wet_hands/pedal";
import { Choice, Page, Scribed } from "../workshop";
import { Figure } from "./Figure";
import * as L from "./later_words";
import * as words from "./words";

/** "About 150 on this edge already." `opening`: what of the pieces on it was written so before. */
export function OpeningCount(p: {
  edges: readonly { value: string; label: string; pieces: number; opening: number }[];
  onWrite: (blade: string, pieces: number) => void;
  onBack: () => void;
}) {
  const blade = useSignal(p.edges[0]?.value ?? "");
  const pieces = useSignal<number | null>(null);
  usePedal({ main: null, ring: [] });
  const edge = p.edges.find((one) => one.value === blade.value);
  const said = pieces.value ?? (edge?.opening || 150);
  return (
    <Page
      title={L.opening}
      sub={edge ? L.openingOn(edge.label) : L.noMachine}
      next={{
        label: L.write,
        sub: words.countsFollow,
        disabled: !edge || said === 0,
        onTake: () => p.onWrite(blade.value, said),
      }}
      extra={[{ label: words.leave, onTake: p.onBack }]}
    >
      {p.edges.length > 1 && (
        <Choice
          legend={L.opening}
          options={p.edges}
          value={blade.value}
          onChange={(id) => {
            blade.value = id;
          }}
        />
      )}
      <Figure
        label={L.pieces}
        value={said}
        likely={[25, 50, 75, 100, 125, 150, 175, 200, 225, 250, 300, 400]}
        onChange={(value) => {
          pieces.value = value;
        }}
      />
      <p>{edge?.opening ? L.openingNow(edge.pieces, edge.opening) : L.openingSub}</p>
      {edge && edge.opening > 0 && (
        <Scribed wide label={L.openingNot} onTake={() => p.onWrite(blade.value, 0)} />
      )}
    </Page>
  );
}
