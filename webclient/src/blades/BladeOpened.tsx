/** One blade: where it is, what its edge has cut, what can be done with it, and all that happened to it. */
import { HousedBlade } from "../drawings/Blades";
import { clockTime, day, number } from "../language/format";
import { neverWas } from "../logbook/never_was";
import { go } from "../route";
import { KeptField, Page, Scribed } from "../workshop";
import { EdgeCaution, ManualFirst } from "../workshop/Cautions";
import { ForeseenSlot } from "../workshop/foreseen_slot";
import type { ShelfBlade } from "./BladeShelf";
import type { BladeMove } from "./model";
import { backGround, groundHere, rename, retire, send, taken, takeOut } from "./state";
import * as words from "./words";
import "./screen.css";

export interface BladeFacts {
  blade: ShelfBlade;
  life: number;
  machine: string | null;
  moves: readonly BladeMove[];
  machineName: (id: string | null) => string | null;
  /** The machine that it can be fitted to. */
  fitTo: string | null;
  /** Pieces written as cut before the first count on its edge of now. */
  opening: number;
}

export function BladeOpened(p: { facts: BladeFacts }) {
  const { blade, life, machine, moves, machineName, fitTo } = p.facts;
  const last = moves[0];
  const next = { label: words.to_care, onTake: () => go("care") };
  return (
    <Page
      title={words.blade(blade.label)}
      sub={[blade.where, life > 1 ? words.life(number(life)) : null].filter(Boolean).join(", ")}
      next={next}
    >
      <div class="side-by-side blade-head">
        <HousedBlade
          label={blade.label}
          kept={blade.place === "in_use" ? "fitted" : blade.place === "away" ? "away" : "ready"}
          width={120}
        />
        <p>
          <span class="answer">{number(blade.pieces)}</span> {words.cut_so_far("").trim()}
        </p>
      </div>
      <ForeseenSlot of="edge" with={{ blade: blade.id }} />
      <EdgeCaution />
      <div class="stack">
        {blade.place === "in_use" && machine !== null && (
          <Scribed wide label={words.change} onTake={() => go("blade-change", machine)} />
        )}
        {blade.place === "in_use" && machine !== null && (
          <Scribed wide label={words.taken_out} onTake={() => takeOut(blade.id, machine)} />
        )}
        {(blade.place === "ready" || blade.place === "new") && fitTo !== null && (
          <Scribed wide label={words.fit} onTake={() => go("blade-change", fitTo, { blade: blade.id })} />
        )}
        {blade.place === "away" ? (
          <Scribed wide label={words.back_sharp} onTake={() => backGround([blade.id])} />
        ) : (
          <Scribed wide label={words.send_one(blade.label)} onTake={() => send([blade.id])} />
        )}
        {blade.place !== "away" && (
          <Scribed wide label={words.ground_here} sub={words.new_edge} onTake={() => groundHere(blade.id)} />
        )}
        {life > 0 && (
          <Scribed
            wide
            label={words.opening}
            sub={p.facts.opening ? words.opened(number(p.facts.opening)) : words.opening_sub}
            onTake={() => go("later", "opening", blade.id)}
          />
        )}
        <Scribed
          wide
          label={words.retire}
          onTake={() => {
            retire(blade.id);
            go("care");
          }}
        />
        {blade.pieces === 0 && life < 2 && (
          <Scribed
            wide
            label={words.never}
            onTake={() => {
              neverWas("blade", blade.id);
              go("care");
            }}
          />
        )}
      </div>
      <KeptField
        label={words.new_blade_label}
        value={blade.label}
        wrong={(label) => taken(label, blade.id)}
        onKeep={(label) => rename(blade.id, label)}
      />
      <section class="stack">
        <h2>{words.history}</h2>
        <ul class="ruled">
          {moves.slice(0, 30).map((move) => (
            <li key={move.id} class="care-done">
              <span>
                <strong>{day(move.at)}</strong> {clockTime(move.at)}, {words.what[move.what]}
                {move.machine !== null && machineName(move.machine) !== null
                  ? `, ${machineName(move.machine)}`
                  : ""}
              </span>
              {move === last && (
                <Scribed label={words.take_back} onTake={() => neverWas("blade_move", move.id)} />
              )}
            </li>
          ))}
        </ul>
      </section>
      <ManualFirst />
    </Page>
  );
}
