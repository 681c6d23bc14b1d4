/** How thick is this piece? Large keys, for wet hands, on which 47 is 0.47 mm. */
import { useState } from "preact/hooks";
import { number, parseNumber } from "../language/format";
import { inInches, lengthFigure, lengthSteps, lengthUnit } from "../language/length";
import { MM_PER_INCH } from "../language/rules";
import { usePedal } from "../wet_hands/pedal";
import { Choice, Page, Scribed, Stepper } from "../workshop";
import { ScrewAdvice, screwNow } from "./ForeseenScrew";
import { asTyped_mm, POINTS, type Point, STARTING_MM } from "./foreseen_rules";
import { type Measured, takeBackReading, wantThickness, writeReading } from "./foreseen_state";
import * as words from "./foreseen_words";
import type { Machine } from "./model";

const LEAST_MM = 0.05;
const MOST_MM = 6;

/** `measured`: the piece that came off last; `piece`: its number, as the bench says it. */
export function ForeseenReading(p: {
  machine: Machine;
  measured: Measured | null;
  piece: number | null;
  onBack: () => void;
}) {
  const { machine } = p;
  const [typed, type] = useState("");
  const [point, setPoint] = useState<Point>("middle");
  const [isWet, setWet] = useState(true);
  const [written, setWritten] = useState<{ id: string; value: number } | null>(null);
  usePedal({ main: null, ring: [] });
  const sign = number(0.5).replace(/[05]/g, "");
  const said = asTyped_mm(typed, typed.includes(sign), parseNumber(typed), inInches.value);
  const value = said === null || !inInches.value ? said : said * MM_PER_INCH;
  const isIn = value !== null && value >= LEAST_MM && value <= MOST_MM;
  const now = screwNow(machine, point);
  const write = (): void => {
    if (value === null) return;
    setWritten({ id: writeReading(machine.id, point, Number(value.toFixed(4)), isWet, p.measured), value });
    type("");
  };
  const takeBack = (): void => {
    if (written) takeBackReading(written.id);
    setWritten(null);
  };
  // while a figure stands there, the keys need the room
  const extra = written && !isIn ? [{ label: words.takeBack(written.value), onTake: takeBack }] : [];
  return (
    <Page
      title={words.measure}
      sub={machine.name}
      bench
      next={
        isIn
          ? { label: words.write, sub: words.writeSub(value, point, isWet, p.piece), onTake: write }
          : { label: words.back, onTake: p.onBack }
      }
      extra={extra}
    >
      <p aria-live="polite">
        <span class="answer">{value === null ? "–" : lengthFigure(value, 2)}</span> {lengthUnit()}
        {value !== null && !isIn && typed.length > 1 && <> {words.outOf(LEAST_MM, MOST_MM)}</>}
      </p>
      <Keys typed={typed} sign={sign} onType={type} />
      <Choice
        tiles
        legend={words.pointLegend}
        value={point}
        onChange={setPoint}
        options={POINTS.map((one) => ({ value: one, label: words.points[one] }))}
      />
      <Choice
        tiles
        legend={words.wetLegend}
        value={isWet ? "wet" : "dry"}
        onChange={(state) => setWet(state === "wet")}
        options={[
          { value: "wet", label: words.wet },
          { value: "dry", label: words.dry },
        ]}
      />
      {now.readings.length > 0 && (
        <p>
          {words.since(
            now.readings.slice(-6).map(({ value_mm }) => value_mm),
            now.readings.at(-1)?.wet === true,
          )}
        </p>
      )}
      <ScrewAdvice machine={machine} what={`${point}_stop`} />
      <Stepper
        {...lengthSteps()}
        label={words.should(point, now.wanted === null ? isWet : now.wantedWet)}
        value={now.wanted ?? STARTING_MM[point]}
        min={LEAST_MM}
        max={MOST_MM}
        onChange={(wanted) => wantThickness(machine.id, point, wanted, isWet)}
      />
    </Page>
  );
}

function Keys(p: { typed: string; sign: string; onType: (typed: string) => void }) {
  const put = (key: string): void => {
    if (p.typed.length < 6 && !(key === p.sign && p.typed.includes(key))) p.onType(p.typed + key);
  };
  const key = (label: string) => <Scribed key={label} label={label} onTake={() => put(label)} />;
  return (
    <fieldset aria-label={words.keys} style="display:grid;grid-template-columns:repeat(3,1fr);gap:16px">
      {[1, 2, 3, 4, 5, 6, 7, 8, 9].map((n) => key(String(n)))}
      {key(p.sign)}
      {key("0")}
      <Scribed label="←" name={words.rubOut} onTake={() => p.onType(p.typed.slice(0, -1))} />
    </fieldset>
  );
}
