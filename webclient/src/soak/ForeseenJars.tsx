/** When is what lies in the water ready, best, too soft; and when does the next group go in at the real pace? */
import { clockTime } from "../language/format";
import { slip } from "../logbook/slips";
import { go } from "../route";
import { Scribed } from "../workshop";
import { foreseen } from "../workshop/foreseen_slot";
import { replanned } from "./foreseen_row_rules";
import { paceFor, toldFor } from "./foreseen_state";
import { dryingOf, type Told, windowOf } from "./foreseen_told_rules";
import * as words from "./foreseen_words";
import type { Soak } from "./model";
import { type Group, PRESET_C, putInAt, readyAt } from "./rules";
import type { Standing } from "./standing";
import { say } from "./state";

export interface JarsFacts {
  jars: readonly Standing[];
  drying?: readonly Standing[];
  /** the next group of the row under way, as it was planned */
  group?: Group | null;
  now?: number;
}

export function ForeseenJars(p: JarsFacts) {
  const told = p.jars.map((one) => ({ one, told: toldOfSoak(one.soak) }));
  const first = told.find((each) => each.told !== null);
  return (
    <section class="stack">
      {told.map((each) => each.told && <p key={each.one.soak.id}>{line(each.one, each.told)}</p>)}
      {p.drying?.map((one) => (
        <Drying key={one.soak.id} one={one} />
      ))}
      {p.group && p.now !== undefined && <NextGroup group={p.group} now={p.now} />}
      {first?.told && <Rests told={first.told} one={first.one} />}
    </section>
  );
}

const toldOfSoak = (soak: Soak): Told | null =>
  soak.purpose === "profile" ? toldFor(soak.lot, soak.water, soak.water_c ?? PRESET_C[soak.water]) : null;

/** "Second six: ready 14:10 to 14:25, 9 times in 10; best about 14:16." */
export function line(one: Standing, { foreseen: found, isTriedEarly }: Told): string {
  const at = (time_s: number): number => one.put_in + time_s * 1000;
  return words.ofOne(one.name, [
    isTriedEarly ? words.between(at(found.lower_s), at(found.upper_s)) : words.by(at(found.upper_s)),
    words.bestAt(at(found.best_s)),
    ...(found.too_soft_lower_s !== null && found.too_soft_upper_s !== null
      ? [words.softBetween(at(found.too_soft_lower_s), at(found.too_soft_upper_s))]
      : []),
  ]);
}

function Drying({ one }: { one: Standing }) {
  const { lot, drying_since } = one.soak;
  const dry = dryingOf([slip("soak", lot ?? ""), slip("soak", "all")]);
  const since = Date.parse(drying_since ?? "");
  if (dry === null || Number.isNaN(since)) return null;
  const at = (time_s: number): number => since + time_s * 1000;
  return <p>{words.dryBetween(one.name, at(dry.lower_s), at(dry.upper_s), dry.observations)}</p>;
}

function Rests({ told, one }: { told: Told; one: Standing }) {
  const { marks } = told;
  const label = told.subject === "all" ? null : one.lot;
  return (
    <>
      <p class="quiet">
        {[
          marks.wanting > 0
            ? words.few_marks(marks.all, label, marks.wanting)
            : words.fromLine(marks.all, label),
          ...(told.here === 0 ? [words.elsewhere(one.soak.water)] : []),
          ...(told.isTriedEarly ? [] : [words.neverEarlier]),
        ].join(" ")}
      </p>
      <Scribed wide label={words.why} onTake={() => go("evidence", "soak", told.subject)} />
    </>
  );
}

/** The row planned anew, once the pieces at the bench come quicker or slower than it was planned for. */
function NextGroup(p: { group: Group; now: number }) {
  const { row } = p.group;
  const [first, last] = [row[0], row.at(-1)];
  if (!first || !last || first.purpose !== "profile") return null;
  const pace = paceFor(first.lot, first.batch);
  if (pace === null) return null;
  const found = replanned(
    {
      now: p.now,
      wet: row.reduce((sum, soak) => sum + (soak.pieces ?? 0), 0),
      cut: cutSince(first),
      isOut: row.some((soak) => soak.taken_out !== null),
      ready: readyAt(first),
      last_in: putInAt(last) ?? p.now,
      group: p.group,
    },
    pace,
    windowOf(toldOfSoak(first), first.soak_s),
  );
  if (found === null) return null;
  const { at, every_s } = found;
  return (
    <>
      {found.isMoved && (
        <>
          <p role="status">{words.moved(pace, p.group.pieces, at, p.group.at)}</p>
          <Scribed
            wide
            label={words.move(at)}
            sub={words.move_sub}
            name={`${words.move(at)}, ${clockTime(p.group.at)}`}
            onTake={() =>
              say(words.did_move, first, { every_s, next_silenced_at: null, next_rings_again_at: null })
            }
          />
        </>
      )}
      {!found.kept && <p>{words.too_long(p.group.pieces)}</p>}
    </>
  );
}

/** Pieces of the row's batch cut since its first group went in, as bench_day counts them. */
function cutSince(first: Soak): number {
  const { batch } = first;
  const since = putInAt(first) ?? 0;
  return (foreseen.value?.told["cut"]?.({ batch, since }) as number | undefined) ?? 0;
}
