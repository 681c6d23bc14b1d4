/** So many pieces at the bench's pace: in which groups, how often, from when on; or what would make it possible. */
import { useState } from "preact/hooks";
import { minute } from "../clock";
import { timeZone } from "../language/format";
import { go } from "../route";
import { Scribed, Stepper, TextField } from "../workshop";
import * as did_words from "./did_words";
import type { PutInFacts } from "./ForeseenPutIn";
import { colder_c, nextAt } from "./foreseen_row_rules";
import { type Change, every_s, plan } from "./foreseen_stagger_rules";
import { jarsOf, keepJars, MOST_JARS, paceFor, ROOM_C, toldFor } from "./foreseen_state";
import { type Told, windowOf } from "./foreseen_told_rules";
import * as words from "./foreseen_words";
import { startSoak } from "./state";

/** The phone's own zone, while the workshop's is not known. */
const here = (): string => Intl.DateTimeFormat().resolvedOptions().timeZone;

/** Sooner than this is now. */
const SOON_S = 60;

export function ForeseenPlan(p: PutInFacts & { told: Told | null }) {
  const { into, told } = p;
  const [clock, setClock] = useState("");
  const pieces = into.of_pieces ?? into.pieces ?? 0;
  const pace = paceFor(into.lot, into.batch);
  if (pace === null || pieces < 2) return null;
  const now = minute.value;
  const jars = jarsOf(p.soaks);
  const wish = { ...windowOf(told, into.soak_s), pieces, pace, jars, out_together: true };
  const each = (into.of_pieces === null ? null : into.pieces) ?? pieces;
  const asMeant = plan({ ...wish, each });
  const isPossible = asMeant.groups.length > 0;
  const { groups, changes } = isPossible ? asMeant : plan({ ...wish, each: null });
  const wished = nextAt(clock, now, timeZone.value ?? here());
  const first = groups[0];
  const later =
    first && wished !== null ? plan({ ...wish, each: first.pieces, start_s: (wished - now) / 1000 }) : null;
  const start = later?.groups[0]?.put_in_s ?? 0;
  const tooSoon_s = later?.changes.find(({ what }) => what === "start_later")?.number;
  const at = start < SOON_S ? null : now + start * 1000;
  const every = every_s(groups);
  const usual_c = into.water_c ?? ROOM_C;
  const best_s = (c: number): number | null => toldFor(into.lot, into.water, c)?.foreseen.best_s ?? null;
  const would = (of: readonly Change[]): string =>
    words.would(of, (times) => colder_c(best_s, usual_c, times));
  return (
    <>
      {!isPossible && (
        <p>
          {words.cannot(pace, each)} {would(asMeant.changes.length > 0 ? asMeant.changes : changes)}
        </p>
      )}
      {first && every === null && isPossible && <p>{words.together(pace, pieces, at)}</p>}
      {first && every !== null && (
        <p>{words.row(pace, first.pieces, every, Math.max(...groups.map((group) => group.jar)), at)}</p>
      )}
      {wished !== null && tooSoon_s !== undefined && (
        <p role="status">{words.too_soon(wished, wished + tooSoon_s * 1000)}</p>
      )}
      {first &&
        every !== null &&
        at === null &&
        (first.pieces !== into.pieces || Math.abs(every - (into.every_s ?? 0)) > 60) && (
          <Scribed
            wide
            label={words.row_take(first.pieces, every)}
            sub={words.row_sub(first.pieces, pieces)}
            onTake={() => {
              const whole_s = Math.max(60, Math.round(every / 60) * 60);
              const set = { ...into, pieces: first.pieces, of_pieces: pieces, every_s: whole_s };
              startSoak(did_words.put_in, set, p.fresh);
              go("soak");
            }}
          />
        )}
      <TextField
        type="time"
        label={words.first_at}
        sub={words.first_at_sub}
        value={clock}
        onChange={setClock}
      />
      {(!isPossible || every !== null) && (
        <Stepper label={words.jars} value={jars} min={1} max={MOST_JARS} onChange={keepJars} />
      )}
    </>
  );
}
