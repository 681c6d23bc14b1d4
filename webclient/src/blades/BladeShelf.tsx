/** Where is each blade: used ones in their box, one in use, others ready or away. */
import { BladeBox, boxOf, HousedBlade } from "../drawings/Blades";
import { number } from "../language/format";
import { go } from "../route";
import { press } from "../wet_hands/press";
import { Scribed } from "../workshop";
import { ForeseenSlot } from "../workshop/foreseen_slot";
import * as words from "./words";
import "./screen.css";

export interface ShelfBlade {
  id: string;
  label: string;
  place: "new" | "in_use" | "ready" | "away";
  /** Waits in the box for the grinder. */
  boxed: boolean;
  pieces: number;
  /** Under its label: the machine it is in, or since when it is away; ready to read. */
  where: string | null;
}

export function BladeShelf(p: {
  blades: readonly ShelfBlade[];
  boxWords: { label: string; sub: string };
  machines: readonly { id: string; name: string }[];
  onBack: (blades: string[]) => void;
}) {
  const boxed = p.blades.filter((blade) => blade.boxed);
  const others = p.blades.filter((blade) => !blade.boxed);
  const { abreast, high } = boxOf(boxed.length);
  const away = others.filter((blade) => blade.place === "away");
  return (
    <section class="stack shelf" aria-label={words.blades}>
      {boxed.length > 0 && (
        <div>
          <div class="box-drawn">
            <BladeBox blades={boxed.map((blade) => ({ label: blade.label, cut: number(blade.pieces) }))} />
            <div
              class="box-labels"
              style={{
                gridTemplateColumns: `repeat(${abreast},1fr)`,
                inset: `${5300 / high}% 9% ${1100 / high}% 2%`,
              }}
            >
              {boxed.map((blade) => (
                <button
                  key={blade.id}
                  type="button"
                  aria-label={[
                    words.blade(blade.label),
                    p.boxWords.label,
                    words.cut_so_far(number(blade.pieces)),
                  ].join(", ")}
                  {...press(() => go("care", "blade", blade.id))}
                />
              ))}
            </div>
          </div>
          <p>
            <strong>{p.boxWords.label}</strong>
          </p>
          <p class="quiet">{p.boxWords.sub}</p>
        </div>
      )}
      <ul>
        {others.map((blade) => (
          <li key={blade.id}>
            <button type="button" {...press(() => go("care", "blade", blade.id))}>
              <HousedBlade
                title={words.blade(blade.label)}
                label={blade.label}
                kept={blade.place === "in_use" ? "fitted" : blade.place === "away" ? "away" : "ready"}
              />
              <span class="shelf-where">{place(blade)}</span>
              <small>{blade.place === "away" ? blade.where : words.cut_so_far(number(blade.pieces))}</small>
            </button>
          </li>
        ))}
      </ul>
      <ForeseenSlot
        of="grinding"
        with={{ blunt: boxed.length, keen: others.length - away.length, away: away.length }}
      />
      {away.length > 0 && (
        <Scribed
          wide
          label={words.back_sharp}
          sub={words.came_back(away.map((blade) => blade.label))}
          onTake={() => p.onBack(away.map((blade) => blade.id))}
        />
      )}
      {p.machines.map((machine) => (
        <Scribed
          key={machine.id}
          wide
          label={words.change}
          sub={machine.name}
          onTake={() => go("blade-change", machine.id)}
        />
      ))}
    </section>
  );
}

const place = (blade: ShelfBlade): string =>
  blade.place === "in_use" ? words.in_use : blade.place === "away" ? words.away : words.ready;
