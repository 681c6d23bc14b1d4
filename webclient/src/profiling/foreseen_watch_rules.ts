/** Is this edge going off? A sum of what speaks for it, piece by piece, against an edge that goes on well. Pure.

Each supposition is an onset and a rate at which log minutes rise from there on; what a session adds to all of its
pieces, and a lot to all of its sessions, is integrated out. The server does the same (`forecast/watch_fit.py`). */
import { Level, type Spread } from "./foreseen_level_rules";
import { type Blunt, type Likeliest, Onsets } from "./foreseen_onset_rules";

/** `decision`: the sum that signals. */
export interface WatchedBy extends Spread, Blunt {
  decision: number;
}

/** A piece on the edge. `off`: log minutes less the usual (null: not fully counted); `error`: how well its lot is known;
 * `straight`: the edge was found straight before this session. */
export interface Cut {
  age: number;
  lot: string;
  session: string;
  straight: boolean;
  off: number | null;
  error: number;
  lost: boolean;
}

/** `named`: the age at which it was named first, and still is; `onset`: since when it rises, by so many log minutes. */
export interface Found extends Likeliest {
  named: number | null;
}

const LEAST_RISE = 0.08;

/** One edge, from its first piece on. Once named it stays so, until it was found straight. */
export function watchEdge(by: WatchedBy, cuts: readonly Cut[]): Found {
  const [level, onsets] = [new Level(by), new Onsets(by)];
  let [session, lot] = ["", ""];
  let named: number | null = null;
  let likeliest: Likeliest = { total: 0, onset: null, rise: 0 };
  for (const cut of cuts) {
    if (named !== null && cut.straight && cut.session !== session) {
      onsets.beginAnew(cut.age);
      named = null;
    }
    if (cut.session !== session || cut.lot !== lot) {
      onsets.endSession(level);
      level.endSession();
    }
    if (cut.lot !== lot) {
      onsets.endLot(level);
      level.newLot(cut.error);
    }
    session = cut.session;
    lot = cut.lot;
    likeliest = onsets.piece(cut.age, level.told(cut.off), cut.lost, level);
    if (likeliest.total > by.decision && likeliest.rise >= LEAST_RISE) named ??= cut.age;
  }
  return { named, ...likeliest };
}
