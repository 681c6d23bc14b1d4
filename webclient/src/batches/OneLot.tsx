/** One lot of cane: what its bag says, how it came, what was measured of it. */

import { number, parseNumber } from "../language/format";
import { lengthFigure, lengthUnit, readLength } from "../language/length";
import type { Values } from "../logbook/model";
import { Choice, KeptField, Page, TextField } from "../workshop";
import { ForeseenSlot } from "../workshop/foreseen_slot";
import { COMES, type Lot } from "./model";
import * as words from "./words";
import { comesWords } from "./words";

const shown = (value: number | null, of: (value: number) => string): string =>
  value === null ? "" : of(value);

export function OneLot(p: { lot: Lot; onChange: (set: Values) => void; onBack: () => void }) {
  const { lot, onChange } = p;
  const figure = (
    label: string,
    name: "gouge_mm" | "diameter_mm" | "pieces",
    most: number,
    write: (value: number) => string,
    read: (typed: string) => number | null,
  ) => {
    const isWrong = (typed: string): boolean => {
      const value = read(typed);
      return typed !== "" && (value === null || value < 0 || value > most);
    };
    return (
      <KeptField
        label={label}
        inputMode="decimal"
        value={shown(lot[name], write)}
        wrong={(typed) => (isWrong(typed) ? words.figureWrong(write(most)) : undefined)}
        onKeep={(typed) => {
          if (!isWrong(typed)) onChange({ [name]: typed === "" ? null : read(typed) });
        }}
      />
    );
  };
  const whole = (typed: string): number | null => {
    const value = parseNumber(typed);
    return value === null ? null : Math.round(value);
  };
  return (
    <Page title={words.lotTitle(lot.label ?? "?")} next={{ label: words.back, onTake: p.onBack }}>
      <KeptField
        label={words.lotLabel}
        value={lot.label ?? ""}
        onKeep={(label) => {
          if (label !== "") onChange({ label });
        }}
      />
      <Choice
        legend={words.comes}
        tiles
        options={COMES.map((one) => ({ value: one, label: comesWords[one] }))}
        value={lot.comes}
        onChange={(comes) => onChange({ comes })}
      />
      <ForeseenSlot of="lot" with={{ lot: lot.id }} />
      {figure(words.gouge(lengthUnit()), "gouge_mm", 10, lengthFigure, readLength)}
      {figure(words.diameter(lengthUnit()), "diameter_mm", 100, lengthFigure, readLength)}
      {figure(words.lotPieces, "pieces", 100_000, number, whole)}
      <TextField
        label={words.bought}
        type="date"
        value={lot.bought ?? ""}
        onChange={(bought) => onChange({ bought: bought || null })}
      />
      <KeptField
        long
        label={words.note}
        value={lot.note ?? ""}
        onKeep={(note) => onChange({ note: note || null })}
      />
    </Page>
  );
}
