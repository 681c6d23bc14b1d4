// With this pace and these jars: when to put in how many, so that none is late or over-soaked? As on the server.

const HAIR = 1e-9; // of a piece: what is equal on paper stays equal after a division
const COLDEST_TIMES = 8; // from warm to cold by common practice, no source

/** Seconds a piece: the usual, and between what it lies 9 times in 10. `by`: pieces of today (how many); the lot's own; other
 * lots; or what came off last, of anything. */
export interface Pace {
  usual_s: number;
  quick_s: number;
  slow_s: number;
  by?: number | "lot" | "others" | "last";
}

/** `start_s`: until the first piece shall be cut; null: as soon as it is ready. `each`: so many at a time. */
export interface Wish {
  pieces: number;
  pace: Pace;
  ready_s: number;
  too_soft_s: number;
  jars: number;
  start_s?: number | null;
  each?: number | null;
  /**
   * a jar is emptied at once, when the first of it is wanted; what is not on the machine yet waits in the air:
   * without `each`, no longer than it was in the water
   */
  out_together?: boolean;
}

export interface Group {
  put_in_s: number;
  pieces: number;
  jar: number;
  first_cut_s: number;
  last_cut_s: number;
}

export interface Change {
  what: "smaller_groups" | "larger_groups" | "more_jars" | "colder_water" | "start_later";
  number: number;
}

/** No groups: it cannot be; each of `changes` would make it possible by itself. */
export interface Plan {
  groups: Group[];
  changes: Change[];
}

export function plan(wish: Wish): Plan {
  const groups = groupsOf(wish);
  return groups.length > 0 ? { groups, changes: [] } : { groups, changes: changesOf(wish) };
}

/** Time between two groups; null: there is one at most. */
export function every_s(groups: readonly Group[]): number | null {
  const [first, second] = groups;
  return first && second ? second.put_in_s - first.put_in_s : null;
}

/**
 * When the next `pieces` go in, where `ahead` others are cut before them and the machine goes on in `starts_in_s`;
 * `kept`: none of them too soft by the time it comes out.
 */
export function nextGroupIn(
  ahead: number,
  pieces: number,
  pace: Pace,
  ready_s: number,
  too_soft_s: number,
  out_together = false,
  starts_in_s = 0,
): { put_in_s: number; kept: boolean } {
  const put_in_s = Math.max(0, starts_in_s + ahead * pace.quick_s - ready_s);
  const untilOut = out_together ? ahead : ahead + pieces - 1;
  return { put_in_s, kept: starts_in_s + untilOut * pace.slow_s - put_in_s <= too_soft_s + HAIR };
}

function groupsOf(wish: Wish): Group[] {
  const most = wish.out_together ? Math.floor(wish.ready_s / wish.pace.slow_s + HAIR) + 1 : wish.pieces;
  const sizes =
    wish.each == null
      ? Array.from({ length: Math.min(most, wish.pieces) }, (_, i) => i + 1)
      : [Math.min(wish.each, wish.pieces)];
  const rows = (size: number): number => Math.ceil(wish.pieces / size);
  const fewestFirst = sizes.filter((size) => fits(wish, size)).sort((a, b) => rows(a) - rows(b) || a - b);
  for (const size of fewestFirst) {
    const groups = ofSize(wish, size);
    if (groups !== null) return groups;
  }
  return [];
}

/** One group alone is cut from when it is ready; later ones wait for a pace that is not known yet. */
function fits(wish: Wish, size: number): boolean {
  const { pace, ready_s, too_soft_s, out_together } = wish;
  const isAlone = size >= wish.pieces;
  const spare = isAlone
    ? (too_soft_s - ready_s) / pace.slow_s
    : too_soft_s / pace.slow_s - ready_s / pace.quick_s;
  return spare >= -HAIR && (out_together === true || size <= Math.floor(spare + HAIR) + 1);
}

function ofSize(wish: Wish, size: number): Group[] | null {
  const { pace, pieces } = wish;
  const lead = size >= pieces ? wish.ready_s : (wish.ready_s * pace.usual_s) / pace.quick_s;
  const start = wish.start_s ?? lead;
  const hair = HAIR * pace.usual_s;
  if (start - lead < -hair) return null;
  const free = Array.from({ length: wish.jars }, () => Number.NEGATIVE_INFINITY);
  const groups: Group[] = [];
  for (let first = 0; first < pieces; first += size) {
    const each = Math.min(size, pieces - first);
    const first_cut_s = start + first * pace.usual_s;
    const put_in_s = first_cut_s - lead;
    const jar = free.findIndex((until) => until <= put_in_s + hair);
    if (jar < 0) return null;
    const last_cut_s = start + (first + each - 1) * pace.usual_s;
    free[jar] = wish.out_together ? first_cut_s : last_cut_s;
    groups.push({ put_in_s, pieces: each, jar: jar + 1, first_cut_s, last_cut_s });
  }
  return groups;
}

function changesOf(wish: Wish): Change[] {
  const found: Change[] = [];
  const { start_s, each, pace } = wish;
  const can = (other: Partial<Wish>): Group[] => groupsOf({ ...wish, ...other });
  if (start_s != null) {
    const lead = [1, pace.usual_s / pace.quick_s].find((f) => can({ start_s: wish.ready_s * f }).length > 0);
    if (lead !== undefined) found.push({ what: "start_later", number: wish.ready_s * lead - start_s });
  }
  if (each != null) {
    const size = can({ each: null })[0]?.pieces;
    if (size !== undefined) {
      found.push({ what: size < each ? "smaller_groups" : "larger_groups", number: size });
    }
  }
  for (let jars = wish.jars + 1; jars < wish.jars + 9; jars += 1) {
    if (can({ jars }).length === 0) continue;
    found.push({ what: "more_jars", number: jars });
    break;
  }
  for (let times = 1.25; times <= COLDEST_TIMES; times += 0.25) {
    if (can({ ready_s: wish.ready_s * times, too_soft_s: wish.too_soft_s * times }).length === 0) continue;
    found.push({ what: "colder_water", number: times });
    break;
  }
  return found;
}
