/** How long does it still take, and is the edge going off? Joins the slips with what this phone has counted since. */
import { computed, signal, untracked } from "@preact/signals";
import { edgeIn } from "../blades/rules";
import { now } from "../clock";
import type { Value } from "../logbook/model";
import { text } from "../logbook/read";
import { shownSlips, slip } from "../logbook/slips";
import { logbook } from "../logbook/state";
import { ForeseenAtBench } from "../profiling/ForeseenAtBench";
import { type EdgeWatched, ForeseenGoingOff } from "../profiling/ForeseenGoingOff";
import { ForeseenPace } from "../profiling/ForeseenPace";
import { ForeseenWatch, type WatchedPiece } from "../profiling/ForeseenWatch";
import { minutesAhead, sharpness, turnsAhead } from "../profiling/foreseen_rules";
import { type Cut, watchEdge } from "../profiling/foreseen_watch_rules";
import { readWatch, type Watch } from "../profiling/foreseen_watch_slip_rules";
import * as words from "../profiling/foreseen_words";
import { counted } from "../profiling/model";
import type { OnBench } from "../profiling/on_bench";
import { minutesOf } from "../profiling/pace";
import { cameOn } from "../profiling/state";
import { NoEvidence } from "../workshop/evidence/Evidence";
import { benchFacts, profilers } from "./bench_facts";
import { labelOf, timeline } from "./care_facts";
import { benchNow, lotLabel, lotOfBatch, type OnEdge, onEdges, paceOf, piecesOf } from "./foreseen_on_edge";

/** So many last pieces say how sharp the edge is now, and what was lost lately. */
const LAST = 12;
/** Pixels of height below which the bench has room for four lines. */
const LOW = 700;
const WIDE = 1000; // from here the screen is a laptop's: room beside, little below

const straightBefore = (session: string): boolean =>
  text(logbook.row("session", session), "check/edge") === "good";

function asCut(watch: Watch, { piece, age }: OnEdge): Cut {
  const lot = lotOfBatch(piece.batch) ?? "";
  const { centre, error } = watch.lotIs(lot);
  const minutes = minutesOf(piece);
  return {
    age,
    lot,
    session: piece.session,
    straight: straightBefore(piece.session),
    off: minutes === null ? null : Math.log(minutes) - centre - (watch.by_age * age) / 100,
    error,
    lost: counted(piece)?.outcome === "lost",
  };
}

interface Watched extends EdgeWatched {
  watch: Watch;
  on: OnEdge[];
  cut: Cut[];
}

/** Each machine's edge, as it stands by the newest piece that this phone knows. */
const watched = computed((): Map<string, Watched> => {
  const found = new Map<string, Watched>();
  for (const { id, name } of profilers.value) {
    const said = slip("watch", id);
    const watch = readWatch(said?.body);
    const edge = edgeIn(timeline.value, id);
    if (!said || !watch || !edge) continue;
    const on = piecesOf(edge);
    const cut = on.map((one) => asCut(watch, one));
    const last = cut.slice(-LAST);
    const straight = cut.findLast((one, i) => one.straight && cut[i - 1]?.session !== one.session);
    found.set(id, {
      machine: id,
      name,
      blade: labelOf(edge.blade),
      found: watchEdge(watch, cut),
      lost: last.filter(({ lost }) => lost).length,
      of: last.length,
      straightAt: straight ? straight.age + 1 : null,
      drifts: watch.drifts,
      pieces: said.observations,
      onceIn: watch.onceIn,
      watch,
      on,
      cut,
    });
  }
  return found;
});

/** On Today (all machines), at set-up and wind down (one). */
export function GoingOffHere(p: { machine?: string | null | undefined }) {
  const off = [...watched.value.values()].filter(
    ({ machine, found }) => found.named !== null && (p.machine === undefined || p.machine === machine),
  );
  return (
    <>
      {off.map((one) => (
        <ForeseenGoingOff key={one.machine} edge={one} />
      ))}
    </>
  );
}

type Lines = OnBench["lines"] | null;

let last: { on: OnBench; of: string; by: unknown; lines: Lines } | null = null;
let wanted: OnBench | null = null;
const worked = signal(0);

/** In place of the lines beside the count; null: what was there stays. A tap is painted first: until then those before it. */
export function linesAtBench(on: OnBench): Lines {
  void worked.value;
  const of = `${on.session?.id}/${on.facts.batch?.id}/${on.facts.machine?.id}`;
  const by = shownSlips();
  if (last?.of !== of || last.by !== by) {
    last = { on, of, by, lines: workedOut(on) };
    return last.lines;
  }
  if (last.on === on) return last.lines;
  if (wanted === null) requestAnimationFrame(() => setTimeout(workOut));
  wanted = on;
  return last.lines;
}

function workOut(): void {
  const on = wanted;
  wanted = null;
  if (!on || !last) return;
  last = { ...last, on, lines: untracked(() => workedOut(on)) };
  worked.value++;
}

function workedOut(on: OnBench): Lines {
  const bench = benchNow(on.own);
  if (!bench) return null;
  const { pace, wanting } = bench.said;
  const one = minutesAhead(pace, bench.age, 1, bench.today);
  const isLow = innerHeight <= LOW && innerWidth < WIDE;
  const machine = on.facts.machine?.id;
  const isOff = machine !== undefined && watched.value.get(machine)?.found.named != null;
  const lines = on.lines.filter(({ what }) => what === "water" && !(isLow && isOff));
  lines.push({ what: "pace", words: words.aPiece(one.likely, wanting > 0 && bench.today.length < 3) });
  if (on.left) {
    const rest = minutesAhead(pace, bench.age, on.left, bench.today);
    const began = on.own.find(
      ({ number, session }) => number === on.number && session === on.session?.id,
    )?.began;
    const since = Date.parse(began ?? cameOn(on.own) ?? new Date(now()).toISOString());
    const [at, from, to] = [rest.likely, rest.low, rest.high].map((minutes) =>
      Math.max(now(), since + minutes * 60_000),
    ) as [number, number, number];
    const end = [words.doneAbout(at, isLow), words.doneBetween(from, to)];
    if (innerWidth >= WIDE) lines.push({ what: "end", words: end.join(", ") });
    else for (const [i, line] of end.entries()) lines.push({ what: i === 0 ? "end" : "range", words: line });
  }
  if (isOff) lines.push({ what: "edge", words: words.goingOffQuietly });
  return lines;
}

/** In full, where the bench says what is on. */
export function BenchForeseen(p: { on: OnBench }) {
  const bench = benchNow(p.on.own);
  const { machine, batch } = benchFacts.value;
  if (!bench) return null;
  const lot = lotOfBatch(batch?.id ?? null);
  const { said, age, today, on } = bench;
  const recent = on.slice(-LAST).flatMap(({ piece, age: at }): [number, number, number][] => {
    const minutes = minutesOf(piece);
    const centre = paceOf(lotOfBatch(piece.batch), machine?.id ?? null)?.pace.centre;
    return minutes === null || centre === undefined ? [] : [[minutes, at, centre]];
  });
  return (
    <ForeseenAtBench
      lot={lot}
      label={lotLabel(lot)}
      machine={machine?.id ?? null}
      said={said}
      today={today.length}
      one={minutesAhead(said.pace, age, 1, today)}
      left={p.on.left}
      rest={p.on.left ? minutesAhead(said.pace, age, p.on.left, today) : null}
      turns={
        machine?.countsTurns
          ? turnsAhead(slip("turns", lot ?? "")?.body, slip("turns", "all")?.body, age)
          : null
      }
      sharp={recent.length >= LAST / 2 ? sharpness(said.pace, recent) : null}
    />
  );
}

/** `subject`: a lot. */
export function PaceEvidence(p: { subject: string }) {
  const said = paceOf(p.subject, null);
  if (!said) return <NoEvidence />;
  const labels = new Map(logbook.rows("batch").map((row) => [row.id, text(row, "label") ?? "?"]));
  const pieces = [...onEdges.value.values()]
    .flat()
    .filter(({ piece }) => lotOfBatch(piece.batch) === p.subject && minutesOf(piece) !== null)
    .sort((a, b) => ((a.piece.at ?? "") < (b.piece.at ?? "") ? -1 : 1))
    .map(({ piece, age }) => ({
      batch: labels.get(piece.batch ?? "") ?? "?",
      minutes: minutesOf(piece) ?? 0,
      age,
    }));
  return <ForeseenPace label={lotLabel(p.subject)} said={said} pieces={pieces} />;
}

/** `subject`: a machine. */
export function WatchEvidence(p: { subject: string }) {
  const row = logbook.row("machine", p.subject);
  const body: { [name: string]: Value } | undefined = slip("watch", p.subject)?.body;
  if (!row || !body) return <NoEvidence />;
  const one = watched.value.get(p.subject);
  const name = text(row, "name") ?? "";
  const wanting = body["wanting"];
  const pieces = (one?.on ?? []).map(({ piece, age }, i): WatchedPiece => {
    const cut = one?.cut[i];
    const minutes = minutesOf(piece);
    return {
      place: age + 1,
      minutes,
      usual: one && cut ? Math.exp(one.watch.lotIs(cut.lot).centre + (one.watch.by_age * age) / 100) : null,
      off: cut?.off ?? null,
      outcome: counted(piece)?.outcome ?? "good",
    };
  });
  return (
    <ForeseenWatch
      name={name}
      machine={p.subject}
      edge={one ?? null}
      watch={one?.watch ?? null}
      pieces={pieces}
      wanting={typeof wanting === "number" ? wanting : null}
      onChange={(set) => void logbook.write([{ kind: "machine", record: p.subject, set }])}
      isKeener={row.fields["watch_keener"]?.value === true}
    />
  );
}
