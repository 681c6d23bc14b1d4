/** How much has this edge cut already, before anything was written down? */
import { useSignal } from "@preact/signals";
import { usePedal } from "../wet_hands/pedal";
import { Choice, Page, Scribed } from "../workshop";
import { Figure } from "./Figure";
import * as L from "./later_words";
import * as words from "./words";

/** The edge in a machine: what is counted on it, and how much of that was written as its opening. */
interface Edge {
  id: string;
  label: string;
  pieces: number;
  opening: number;
}

/** "About 150 on this edge already." */
export function OpeningCount(p: {
  machines: readonly { value: string; label: string; edge: Edge | null }[];
  start: string | null;
  onWrite: (machine: string, blade: string, pieces: number) => void;
  onBack: () => void;
}) {
  const machine = useSignal<string | null>(p.start ?? p.machines[0]?.value ?? null);
  const pieces = useSignal<number | null>(null);
  usePedal({ main: null, ring: [] });
  const on = p.machines.find((one) => one.value === machine.value) ?? null;
  const edge = on?.edge;
  const said = pieces.value ?? (edge?.opening || 150);
  const write = (count: number): void => {
    if (on && edge) p.onWrite(on.value, edge.id, count);
  };
  return (
    <Page
      title={L.opening}
      sub={L.openingOn(edge?.label ?? null)}
      next={{
        label: L.write,
        sub: words.countsFollow,
        disabled: !edge || said === 0,
        onTake: () => write(said),
      }}
      extra={[{ label: words.leave, onTake: p.onBack }]}
    >
      {!edge && <p>{L.noMachine}</p>}
      {p.machines.length > 1 && (
        <Choice
          legend={words.machines}
          options={p.machines}
          value={machine.value}
          onChange={(id) => {
            machine.value = id;
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
      {edge?.opening ? <Scribed wide label={L.openingNot} onTake={() => write(0)} /> : null}
    </Page>
  );
}
