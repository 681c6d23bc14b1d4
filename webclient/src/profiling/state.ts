/** What happens at the bench, written down: one order for each thing that a hand or a pedal does. */
import { computed, signal } from "@preact/signals";
import { now, nowText } from "../clock";
import type { Edit, Value } from "../logbook/model";
import { pieceId } from "../logbook/piece_id";
import { once } from "../logbook/read";
import { logbook, newId } from "../logbook/state";
import { asPiece, counted, isDone, type Outcome, type Piece, readSession, type Session } from "./model";
import * as rules from "./rules";

/** What the bench is told of the other rooms. */
export interface BenchFacts {
  /** `name`: where there are several. */
  machine: { id: string; name: string | null; turnHabit: rules.TurnHabit; countsTurns: boolean } | null;
  batch: {
    id: string;
    label: string;
    pieces: number | null /** cut in other sessions, or written up */;
    before: number;
  } | null;
  lot: string | null;
  blade: string | null;
}

const asSession = once(readSession);

export const sessions = computed(() => logbook.rows("session").map(asSession));
export const pieces = computed(() => logbook.rows("piece").map(asPiece));

/** A Good that came too soon after another: asked about, not counted. */
export const askedTwo = signal<{ at: string } | null>(null);
/** The lost piece of which nobody said yet what was seen. */
export const askingSeen = signal<{ piece: string; place: number } | null>(null);

let lastGood: number | null = null;
/** When the first piece of a session came on, on this phone; it has no piece before it to tell. */
let firstCameOn: string | null = null;

export function sessionAt(machine: string | null): Session | null {
  return rules.openSessions(machine, sessions.value, pieces.value, now())[0] ?? null;
}

export function piecesIn(session: Session | null): Piece[] {
  return session ? rules.piecesOf(session, sessions.value, pieces.value) : [];
}

/** The bench is on screen: from now on the first piece is being cut. */
export function lookOnBench(session: Session | null): void {
  if (piecesIn(session).some(isDone)) return;
  firstCameOn ??= nowText();
}

interface On {
  session: Session | null;
  id: string;
  own: Piece[];
  number: number;
  piece: Piece | undefined;
  began: string | null;
  edits: Edit[];
}

/** The piece on the easel, and the edits that it takes for its session to stand. */
function pieceNow(facts: BenchFacts): On {
  const session = sessionAt(facts.machine?.id ?? null);
  const own = piecesIn(session);
  const number = rules.pieceOn(session, own);
  const edits: Edit[] = [];
  const id = session?.id ?? newId();
  const batch = facts.batch?.id ?? null;
  if (!session) {
    for (const old of rules.asleep(sessions.value, pieces.value, now()))
      edits.push({ kind: "session", record: old.id, set: { ended: new Date(old.ended).toISOString() } });
    const set: Record<string, Value> = {
      machine: facts.machine?.id ?? null,
      began: firstCameOn ?? nowText(),
      batches: batch ? [batch] : [],
    };
    set["turns"] = turnsWanted.peek() ?? facts.machine?.countsTurns ?? false;
    edits.push({ kind: "session", record: id, set });
  } else if (batch && session.batches.at(-1) !== batch) {
    edits.push({
      kind: "session",
      record: id,
      set: { batches: [...session.batches.filter((one) => one !== batch), batch] },
    });
  }
  const piece = own.find((one) => one.session === id && one.number === number);
  return { session, id, own, number, piece, began: piece?.began ?? cameOn(own), edits };
}

/** When the piece on the easel came on: when the one before it came off. */
export function cameOn(own: readonly Piece[]): string | null {
  let last = "";
  for (const piece of own) if (isDone(piece) && piece.at !== null && piece.at > last) last = piece.at;
  return last || firstCameOn;
}

function inPiece(on: On, facts: BenchFacts): Record<string, Value> {
  return {
    session: on.id,
    number: on.number,
    batch: facts.batch?.id ?? null,
    machine: facts.machine?.id ?? null,
    began: on.began,
  };
}

/** Tapped as it came off, with no pause, no correction and no missed tap before it. Nobody tapped the first one on. */
function isFull(on: On): boolean {
  const corrected = on.piece !== undefined && Object.keys(on.piece.nulledBy).length > 0;
  const before = on.own.filter(isDone).at(-1);
  return (
    before !== undefined &&
    on.began !== null &&
    !corrected &&
    !before.added &&
    !rules.wasPaused(on.session, on.began)
  );
}

/** The piece on the easel comes off, and the next is on. Returns the piece's id. */
export function comeOff(outcome: Outcome, facts: BenchFacts): string {
  const on = pieceNow(facts);
  const record = pieceId(on.id, on.number);
  const full = isFull(on);
  if (on.session?.pausedAt) on.edits.push({ kind: "session", record: on.id, set: { paused_at: null } });
  on.edits.push({
    kind: "piece",
    record,
    set: (change) => ({ ...inPiece(on, facts), at: nowText(), [`outcome/${change}`]: outcome, full }),
  });
  logbook.write(on.edits);
  askedTwo.value = null;
  askingSeen.value = null;
  firstCameOn = null;
  return record;
}

/** Good: one tap a piece. Counted or asked about. */
export function sayGood(facts: BenchFacts, by: "hand" | "pedal"): "counted" | "asked" {
  const at = now();
  const asks = rules.asksTwo(lastGood, at, by);
  lastGood = at;
  if (asks) {
    askingSeen.value = null; // the bench asks: its face must be up
    askedTwo.value = { at: nowText() };
    return "asked";
  }
  comeOff("good", facts);
  return "counted";
}

/** "Two pieces?": yes. Neither can say how long it took. */
export function sayTwo(facts: BenchFacts): void {
  const asked = askedTwo.value;
  if (!asked) return;
  const on = pieceNow(facts);
  const last = on.own.filter(isDone).at(-1);
  if (last) on.edits.push({ kind: "piece", record: last.id, set: { full: false } });
  on.edits.push({
    kind: "piece",
    record: pieceId(on.id, on.number),
    set: (change) => ({ ...inPiece(on, facts), at: asked.at, [`outcome/${change}`]: "good", full: false }),
  });
  logbook.write(on.edits);
  askedTwo.value = null;
}

export function sayLost(facts: BenchFacts, place: number): void {
  askingSeen.value = { piece: comeOff("lost", facts), place };
}

export function saySeen(codes: string[]): void {
  const asking = askingSeen.value;
  if (asking) logbook.write([{ kind: "piece", record: asking.piece, set: { seen: codes } }]);
  askingSeen.value = null;
}

/** The other end to the blade. */
export function sayTurned(facts: BenchFacts): void {
  const on = pieceNow(facts);
  const mine = on.piece?.turns[logbook.device] ?? [];
  on.edits.push({
    kind: "piece",
    record: pieceId(on.id, on.number),
    set: { ...inPiece(on, facts), [`turns/${logbook.device}`]: [...mine, nowText()] },
  });
  logbook.write(on.edits);
  askedTwo.value = null;
}

/** What a correction wrote over, so that taking it back brings the earlier outcome back. */
const replacedBy = new Map<string, Record<string, Value>>();

async function earlierOutcomes(
  act: Extract<rules.LastAct, { kind: "outcome" }>,
): Promise<Record<string, Value>> {
  const known = replacedBy.get(act.change);
  if (known || act.replaced.length === 0) return known ?? {};
  const past = await logbook.history("piece", act.piece.id);
  const earlier: Record<string, Value> = {};
  for (const change of act.replaced) {
    const set = past.find((one) => one.id === change)?.set[`outcome/${change}`];
    if (set) earlier[`outcome/${change}`] = set;
  }
  return earlier;
}

/** Undoes the last act that still stands; again and again, step by step. */
export function takeBack(own: readonly Piece[]): void {
  askedTwo.value = null;
  askingSeen.value = null;
  lastGood = null;
  const act = rules.lastAct(own);
  if (!act) return;
  if (act.kind === "seen") logbook.takeBack("piece", act.piece.id, { seen: [] });
  else if (act.kind === "turn")
    logbook.takeBack("piece", act.piece.id, { [`turns/${act.device}`]: act.left });
  else if (act.replaced.length === 0)
    logbook.takeBack("piece", act.piece.id, { [`outcome/${act.change}`]: null });
  else
    void earlierOutcomes(act).then((earlier) =>
      logbook.takeBack("piece", act.piece.id, { ...earlier, [`outcome/${act.change}`]: null }),
    );
}

/** What was tapped wrong, put right: every other outcome goes, and its minutes no longer count. */
export function putRight(piece: Piece, outcome: Outcome): void {
  const standing = Object.fromEntries(
    piece.standing.map((one): [string, Value] => [`outcome/${one.change}`, null]),
  );
  const before = Object.fromEntries(
    piece.standing.map((one): [string, Value] => [`outcome/${one.change}`, one.outcome]),
  );
  const { changes } = logbook.write([
    {
      kind: "piece",
      record: piece.id,
      set: (change) => ({ ...standing, [`outcome/${change}`]: outcome, full: false }),
    },
  ]);
  if (changes[0]) replacedBy.set(changes[0], before);
}

/** One more was done and nobody tapped. */
export function addMissed(facts: BenchFacts, outcome: Outcome): void {
  const on = pieceNow(facts);
  on.edits.push({
    kind: "piece",
    record: pieceId(on.id, on.number),
    set: (change) => ({
      ...inPiece(on, facts),
      began: null,
      at: nowText(),
      [`outcome/${change}`]: outcome,
      full: false,
      added: true,
    }),
  });
  logbook.write(on.edits);
  firstCameOn = null;
}

/** This phone took over and does not hold what the other has not sent: the maker says which piece is on. */
export function sayAtPiece(session: Session, number: number): void {
  logbook.write([{ kind: "session", record: session.id, set: { at_piece: number } }]);
}

/** What was said of counting turns before the session began. */
export const turnsWanted = signal<boolean | null>(null);

export function countTurns(session: Session | null, yes: boolean): void {
  turnsWanted.value = yes;
  if (session) logbook.write([{ kind: "session", record: session.id, set: { turns: yes } }]);
}

export const outcomeOf = (piece: Piece): Outcome | null => counted(piece)?.outcome ?? null;
