/** Which of the last ten was tapped wrong? One more tap and it is right; a tap that was missed is added here too. */
import { useSignal } from "@preact/signals";
import { Cane } from "../drawings/Cane";
import { OutcomeShape } from "../drawings/OutcomeShape";
import { number } from "../language/format";
import { go } from "../route";
import { usePedal } from "../wet_hands/pedal";
import { Page, Scribed, Stepper } from "../workshop";
import { Faults } from "./Lost";
import { OUTCOMES, type Outcome, type Piece } from "./model";
import type { OnBench } from "./on_bench";
import { lastTen } from "./rules";
import { seeLater } from "./settling";
import { addMissed, outcomeOf, pieces, putRight, sayAtPiece } from "./state";
import * as words from "./words";
import { faults, outcomeWords } from "./words";
import "./put_right.css";

export function PutRight(p: { on: OnBench; onBladeChanged?: ((piece: Piece) => void) | undefined }) {
  const { on } = p;
  const chosen = useSignal<string | null>(null);
  const { batch, machine } = on.facts;
  const ten = lastTen(on.own, pieces.value, batch?.id ?? null, machine?.id ?? null);
  const piece = ten.find((one) => one.id === chosen.value) ?? null;
  usePedal({ main: null, ring: [] });
  const back = (): void => go("bench");
  const right = (outcome: Outcome): void => {
    if (piece && outcomeOf(piece) !== outcome) putRight(piece, outcome);
    else if (!piece) addMissed(on.facts, outcome);
    chosen.value = null;
  };
  return (
    <Page
      title={words.putRight}
      sub={words.putRightSub}
      bench
      next={{
        label: piece ? words.leaveIt(outcomeOf(piece)) : words.back,
        sub: words.countsFollow,
        onTake: piece
          ? () => {
              chosen.value = null;
            }
          : back,
      }}
    >
      {ten.length === 0 && <p>{words.nothingYet}</p>}
      <div class="last-ten">
        {ten.map((one) => {
          const outcome = outcomeOf(one);
          const place = on.placeOf(one);
          return (
            <Scribed
              key={one.id}
              label={number(place)}
              name={words.pieceSaid(place, outcome ?? "good", one.seen)}
              place="after"
              drawing={
                outcome === "good" ? (
                  <Cane left={1} right={1} scored seed={one.number} />
                ) : outcome ? (
                  <OutcomeShape outcome={outcome} width={78} />
                ) : null
              }
              chosen={one.id === chosen.value}
              onTake={() => {
                chosen.value = chosen.value === one.id ? null : one.id;
              }}
            />
          );
        })}
      </div>
      <h2>{piece ? words.pieceWas(on.placeOf(piece), piece.at) : words.missed}</h2>
      {!piece && <p class="quiet">{words.missedSub}</p>}
      <div class="bench-outcomes bench-outcomes-three">
        {OUTCOMES.map((outcome) => (
          <Scribed
            key={outcome}
            label={outcomeWords[outcome]}
            place="above"
            drawing={<OutcomeShape outcome={outcome} />}
            onTake={() => right(outcome)}
          />
        ))}
      </div>
      {piece && p.onBladeChanged && (
        <Scribed
          wide
          label={words.bladeForgotten}
          sub={words.bladeForgottenSub(on.placeOf(piece))}
          onTake={() => p.onBladeChanged?.(piece)}
        />
      )}
      {piece && (
        <>
          <h2>{words.whatSeenOn}</h2>
          <Faults
            codes={faults}
            seen={piece.seen}
            onTake={(code) => seeLater(piece, piece.seen.includes(code) ? [] : [code])}
          />
        </>
      )}
      {!piece && on.session && <AtPiece on={on} />}
    </Page>
  );
}

function AtPiece(p: { on: OnBench }) {
  const { on } = p;
  const session = on.session;
  if (!session) return null;
  const shift = on.place - on.number;
  return (
    <>
      <Stepper
        label={words.atPiece}
        value={on.place}
        min={1}
        onChange={(place) => sayAtPiece(session, Math.max(1, place - shift))}
      />
      <p class="quiet">{words.atPieceSub}</p>
    </>
  );
}
