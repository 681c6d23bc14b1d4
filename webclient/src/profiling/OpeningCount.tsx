/** How much has this edge cut already, before anything was written down? */
import { useSignal } from "@preact/signals";
import { usePedal } from "../wet_hands/pedal";
import { Choice, Page } from "../workshop";
import { Figure } from "./Figure";
import * as L from "./later_words";
import * as words from "./words";

/** "About 150 on this edge already." */
export function OpeningCount(p: {
  machines: readonly { value: string; label: string; blade: string | null }[];
  start: string | null;
  onWrite: (machine: string, pieces: number) => void;
  onBack: () => void;
}) {
  const machine = useSignal<string | null>(p.start ?? p.machines[0]?.value ?? null);
  const pieces = useSignal(150);
  usePedal({ main: null, ring: [] });
  const on = p.machines.find((one) => one.value === machine.value) ?? null;
  return (
    <Page
      title={L.opening}
      sub={L.openingOn(on?.blade ?? null)}
      next={{
        label: L.write,
        sub: words.countsFollow,
        disabled: !on?.blade || pieces.value === 0,
        onTake: () => {
          if (on) p.onWrite(on.value, pieces.value);
        },
      }}
      extra={[{ label: words.leave, onTake: p.onBack }]}
    >
      {!on?.blade && <p>{L.noMachine}</p>}
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
        value={pieces.value}
        likely={[25, 50, 75, 100, 125, 150, 175, 200, 225, 250, 300, 400]}
        onChange={(value) => {
          pieces.value = value;
        }}
      />
      <p>{L.openingSub}</p>
    </Page>
  );
}
