/** Where the session stands: which piece is on, what is done, what is asked, what a tap would take back. */
import { whileSame } from "../logbook/read";
import { counted, isDone, type Outcome, type Piece, type Session } from "./model";

export * from "./pace";
export * from "./turning";

/** Two Goods closer together than this are asked about: the second may be a drop of water. */
export const TWO_GOODS_MS = 3000;

/** A session with no act for this long is over: going on the next day is a session of its own. */
export const SESSION_SLEEPS_MS = 8 * 3_600_000;

export interface Done {
  good: number;
  second: number;
  lost: number;
  all: number;
}

export function doneOf(pieces: readonly Piece[]): Done {
  const done: Done = { good: 0, second: 0, lost: 0, all: 0 };
  for (const piece of pieces) {
    const outcome = counted(piece)?.outcome;
    if (!outcome) continue;
    done[outcome] += 1;
    done.all += 1;
  }
  return done;
}

/** The session that holds the pieces, when "one session?" was answered yes. Two joined to each other: the first by id. */
export function rootOf(session: Session, all: readonly Session[]): Session {
  const met = [session];
  for (let at = session; at.joinedTo; ) {
    const next = all.find((other) => other.id === at.joinedTo);
    if (!next) break;
    if (met.includes(next))
      return met.slice(met.indexOf(next)).reduce((first, one) => (one.id < first.id ? one : first));
    met.push(next);
    at = next;
  }
  return met.at(-1) ?? session;
}

/** Each session once, those joined into one as one. */
export const counts = (sessions: readonly Session[]): Session[] => [
  ...new Set(sessions.map((session) => rootOf(session, sessions))),
];

/** Another session begun at the same machine and still open, of which nobody said yet that it is another. */
export function alsoOpen(session: Session, open: readonly Session[]): Session | null {
  return (
    open.find(
      (other) =>
        other.id !== session.id && !session.apart.includes(other.id) && !other.apart.includes(session.id),
    ) ?? null
  );
}

const bySession = whileSame((pieces: readonly Piece[]): Map<string, Piece[]> => {
  const found = new Map<string, Piece[]>();
  for (const piece of pieces) {
    const those = found.get(piece.session);
    if (those) those.push(piece);
    else found.set(piece.session, [piece]);
  }
  return found;
});

/** A session's pieces and those of sessions joined to it, in the order they came off. */
export function piecesOf(session: Session, sessions: readonly Session[], pieces: readonly Piece[]): Piece[] {
  const joined = sessions.filter((other) => other.joinedTo && rootOf(other, sessions) === session);
  return [...new Set([session, ...joined])]
    .flatMap(({ id }) => bySession(pieces).get(id) ?? [])
    .sort((a, b) => inOrder(a, b));
}

type InOrder = Pick<Piece, "session" | "number" | "at">;

/** Within a session by number, across sessions as they came off; what has not comes last. */
const inOrder = (a: InOrder, b: InOrder): number => {
  if (a.session === b.session) return a.number - b.number;
  const [at, bt] = [a.at ?? "~", b.at ?? "~"];
  return at < bt ? -1 : at > bt ? 1 : a.number - b.number;
};

/** The number of the piece on the easel: one taken back comes first, else the one after the last. */
export function pieceOn(session: Session | null, own: readonly Piece[]): number {
  const mine = own.filter((piece) => !session || piece.session === session.id);
  const open = mine.filter((piece) => !isDone(piece) && piece.number > 0).map((piece) => piece.number);
  const last = Math.max(0, ...mine.filter(isDone).map((piece) => piece.number));
  const next = Math.max(last + 1, session?.atPiece ?? 1);
  return open.length ? Math.min(...open) : next;
}

export const nextFree = (session: string, pieces: readonly Piece[]): number =>
  1 + Math.max(0, ...pieces.filter((piece) => piece.session === session).map((piece) => piece.number));

/** The last moment anything was done in the session, ms. What is put right on another day was not done then. */
export function lastActAt(session: Session, own: readonly Piece[]): number {
  const moments = [
    session.began,
    session.pauseSaid,
    session.checked,
    ...own.flatMap((piece) => [
      piece.at,
      Object.keys(piece.nulledBy).length > 0 ? null : (counted(piece)?.when ?? null),
    ]),
  ];
  return Math.max(0, ...moments.map((moment) => (moment ? Date.parse(moment) : 0)).filter((ms) => ms > 0));
}

/** Sessions not closed, the latest act first; `act` in ms. */
const notEnded = whileSame((sessions: readonly Session[], pieces: readonly Piece[]) =>
  sessions
    .filter((session) => session.began && !session.ended && rootOf(session, sessions) === session)
    .map((session) => ({ session, act: lastActAt(session, piecesOf(session, sessions, pieces)) }))
    .sort((a, b) => b.act - a.act),
);

/** Sessions still open, the latest act first. */
export const awake = (sessions: readonly Session[], pieces: readonly Piece[], now: number): Session[] =>
  notEnded(sessions, pieces)
    .filter(({ act }) => now - act < SESSION_SLEEPS_MS)
    .map(({ session }) => session);

/** Those on one machine. `machine` null: sessions of no machine. */
export const openSessions = (
  machine: string | null,
  sessions: readonly Session[],
  pieces: readonly Piece[],
  now: number,
): Session[] => awake(sessions, pieces, now).filter((session) => session.machine === machine);

/** Sessions left open that slept too long; closing them says when their last act was. */
export const asleep = (
  sessions: readonly Session[],
  pieces: readonly Piece[],
  now: number,
): { id: string; ended: number }[] =>
  notEnded(sessions, pieces)
    .filter(({ act }) => now - act >= SESSION_SLEEPS_MS)
    .map(({ session, act }) => ({ id: session.id, ended: act }));

/** Is this Good a question rather than a piece? A pedal is never asked. Times in ms. */
export const asksTwo = (lastGood: number | null, now: number, by: "hand" | "pedal"): boolean =>
  by === "hand" && lastGood !== null && now - lastGood >= 0 && now - lastGood < TWO_GOODS_MS;

/** The last ten that came off, of this session and this batch on whatever day; of none of these, on this machine. */
export function lastTen(
  own: readonly Piece[],
  all: readonly Piece[],
  batch: string | null,
  machine: string | null,
): Piece[] {
  const ten = (isOf: (piece: Piece) => boolean): Piece[] =>
    all
      .filter((piece) => isDone(piece) && isOf(piece))
      .sort(inOrder)
      .slice(-10);
  const here = ten((piece) => piece.batch === batch || own.includes(piece));
  return here.length ? here : ten((piece) => piece.machine === machine);
}

/** Pieces on which two phones said different things. */
export const disagreeing = (own: readonly Piece[]): Piece[] =>
  own.filter((piece) => piece.standing.length > 1);

/** One act that Take back undoes, with the fields as they stood before it. */
export type LastAct =
  | { kind: "outcome"; piece: Piece; change: string; outcome: Outcome; replaced: string[] }
  | { kind: "seen"; piece: Piece }
  | { kind: "turn"; piece: Piece; device: string; left: string[] };

/** The last act of the session that still stands; taking it back makes the one before it the last. */
export function lastAct(own: readonly Piece[]): LastAct | null {
  let best: { when: string; act: LastAct } | null = null;
  const offer = (when: string | null, act: LastAct): void => {
    if (when && (!best || when >= best.when)) best = { when, act };
  };
  for (const piece of own) {
    for (const one of piece.standing) {
      const replaced = Object.keys(piece.nulledBy).filter((change) => piece.nulledBy[change] === one.change);
      offer(one.when, { kind: "outcome", piece, change: one.change, outcome: one.outcome, replaced });
    }
    if (piece.seen.length && isDone(piece)) offer(piece.seenWhen, { kind: "seen", piece });
    if (isDone(piece)) continue;
    for (const [device, moments] of Object.entries(piece.turns))
      if (moments.length)
        offer(piece.turnsWhen[device] ?? null, { kind: "turn", piece, device, left: moments.slice(0, -1) });
  }
  return (best as { when: string; act: LastAct } | null)?.act ?? null;
}

/** A piece's place in its batch: after so many that are not among `mine`, and those of `mine` that came off before it. */
export const placeInBatch = (before: number, mine: readonly Piece[], piece: InOrder): number =>
  before + 1 + mine.filter((one) => isDone(one) && inOrder(one, piece) < 0).length;

/** Was work stopped while this piece was on? Then its minutes say nothing. */
export const wasPaused = (session: Session | null, began: string | null): boolean =>
  Boolean(session?.pauseSaid && began && session.pauseSaid >= began);

/** How many were lost to what; what nobody said stands under `not_said`. */
export function lostTo(own: readonly Piece[]): Record<string, number> {
  const by: Record<string, number> = {};
  for (const piece of own) {
    if (counted(piece)?.outcome !== "lost") continue;
    const what = piece.seen[0] ?? "not_said";
    by[what] = (by[what] ?? 0) + 1;
  }
  return by;
}
