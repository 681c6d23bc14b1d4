/** What is foreseen of edges, grinding and care now? Joins the slips with what this phone has counted since. */
import { type EdgeForeseen, ForeseenEdge } from "../blades/ForeseenEdge";
import { ForeseenEdgeEvidence } from "../blades/ForeseenEdgeEvidence";
import { ForeseenGrinding } from "../blades/ForeseenGrinding";
import { ForeseenGrindingEvidence } from "../blades/ForeseenGrindingEvidence";
import { advice, bladesNeeded, type Demand } from "../blades/foreseen_grinding_rules";
import { LEVELS, type Life, leftNow, PARTS, readEdge, readLife } from "../blades/foreseen_rules";
import { changeDay, daysFrom, daysUntilOneOf, perDay, readPace } from "../care/foreseen_rules";
import { USUAL_BOX } from "../care/rules";
import { money, number } from "../language/format";
import { addDays } from "../language/rules";
import { WORKSHOP } from "../logbook/ids";
import type { Values } from "../logbook/model";
import { num, text } from "../logbook/read";
import { slip } from "../logbook/slips";
import { logbook } from "../logbook/state";
import { NoEvidence } from "../workshop/evidence/Evidence";
import { allBatches } from "./batches_facts";
import { benchFacts } from "./bench_facts";
import { currency, labelOf, piecesOn, timeline, today } from "./care_facts";
import { plannedFor } from "./foreseen_quiet";

/** A change is spoken of once it may be wanted within so many days. */
const NEAR_DAYS = 14;

const lifeNow = (): Life | null => readLife(slip("edge", "all")?.body);

/** Open batches that are planned for this machine, or for none in particular. */
const planned = (machine: string | null): { day: string; label: string }[] =>
  allBatches.value.flatMap(({ batch, label }) => {
    const day = plannedFor(batch, machine);
    return day === null ? [] : [{ day, label }];
  });

/** Null where the server has said nothing of this blade, or its edge is used up. */
function edgeNow(blade: string): EdgeForeseen | null {
  const said = readEdge(slip("edge", blade)?.body);
  const life = said?.law ?? lifeNow();
  const stands = timeline.value.blades.get(blade);
  if (life === null || said === null || stands === undefined || stands.place === "away") return null;
  // Ground since the slip was made: a fresh edge, of which only the law is known.
  const edge = said.life === stands.life ? said : { ...said, pieces: 0, worn: 0 };
  const pieces = piecesOn(blade);
  const factor = lifeNow()?.factors.get(lotAtBench(stands.machine) ?? "") ?? 1;
  const pace = stands.machine === null ? null : readPace(edge.pace);
  const days =
    pace && daysFrom(today.value, daysUntilOneOf(leftNow(life, edge, pieces, factor, PARTS), pace, LEVELS));
  const batches = planned(stands.machine);
  const isNear = days !== null && days.lower <= addDays(today.value, NEAR_DAYS);
  const change =
    isNear &&
    changeDay(
      days.middle,
      batches.map(({ day }) => day),
      today.value,
    );
  return {
    blade,
    pieces,
    label: labelOf(blade) ?? "?",
    left: leftNow(life, edge, pieces, factor, LEVELS),
    lookAt: edge.lookAt,
    limit: edge.limit,
    ended: life.ended,
    cutting: life.cutting,
    wanting: life.wanting,
    apart: edge.apart,
    today: today.value,
    fitted: stands.machine !== null,
    ends: days,
    change: change === false ? null : { ...change, batch: inFrontOf(change, days.middle, batches) },
  };
}

const lotAtBench = (machine: string | null): string | null =>
  machine !== null && benchFacts.value.machine?.id === machine
    ? text(logbook.row("batch", benchFacts.value.batch?.id ?? ""), "lot")
    : null;

/** The batch because of which the change moves: the first one planned from the quiet day on. */
function inFrontOf(
  change: { day: string; moved: string },
  wanted: string,
  batches: readonly { day: string; label: string }[],
): string | null {
  const from = change.moved === "before" ? change.day : wanted;
  return batches.filter(({ day }) => day >= from).sort((a, b) => (a.day < b.day ? -1 : 1))[0]?.label ?? null;
}

export function EdgeHere(p: { blade: string; short?: boolean }) {
  const edge = edgeNow(p.blade);
  return edge && <ForeseenEdge edge={edge} short={p.short} />;
}

interface GrindingSaid {
  demand: Demand;
  sendings: number;
  ended: number;
  wanting: number;
  body: Values;
}

function grindingSaid(): GrindingSaid | null {
  const body = slip("grinding", "workshop")?.body;
  const figure = (name: string): number => (typeof body?.[name] === "number" ? body[name] : 0);
  const pace = readPace(body?.["pace"]);
  const piecesPerEdge = figure("pieces_per_edge");
  if (body === undefined || piecesPerEdge <= 0) return null;
  return {
    body,
    sendings: figure("sendings"),
    ended: lifeNow()?.ended ?? 0,
    wanting: figure("wanting"),
    demand: { piecesPerEdge, days: figure("turnaround_days"), perDay: pace ? perDay(pace) : 0 },
  };
}

export function GrindingHere(p: { blunt: number; keen: number; away: number }) {
  const said = grindingSaid();
  if (said === null) return null;
  const { demand } = said;
  const row = logbook.row("workshop", WORKSHOP);
  const prices = {
    one: num(row, "grind_one"),
    box: num(row, "grind_box"),
    box_of: num(row, "grind_box_of") ?? USUAL_BOX,
  };
  const cut = demand.perDay > 0;
  return (
    <ForeseenGrinding
      grinding={{
        advice: cut ? advice(p, prices, demand) : null,
        keen: p.keen,
        all: p.blunt + p.keen + p.away,
        needed: cut ? bladesNeeded(demand, 0.05) : null,
        sendings: said.sendings,
        days: demand.days,
        ended: said.ended,
        wanting: said.wanting,
        money: (amount) =>
          amount === null ? null : currency.value === null ? number(amount) : money(amount, currency.value),
      }}
    />
  );
}

/** `subject`: a blade, or "all". */
export function EdgeEvidence(p: { subject: string }) {
  const all = lifeNow();
  const life = readEdge(slip("edge", p.subject)?.body)?.law ?? all;
  if (life === null || all === null) return <NoEvidence />;
  const harder = [...all.factors].flatMap(([lot, factor]) => {
    const label = text(logbook.row("lot", lot), "label");
    return label !== null && Math.abs(factor - 1) >= 0.1 ? [{ label, factor }] : [];
  });
  return <ForeseenEdgeEvidence life={life} edge={edgeNow(p.subject)} harder={harder} />;
}

export function GrindingEvidence() {
  const said = grindingSaid();
  if (said === null || said.demand.perDay <= 0) return <NoEvidence />;
  const ahead = said.body["ahead"];
  const known = typeof ahead === "object" && ahead !== null && !Array.isArray(ahead) ? ahead : {};
  const { lower, upper, days } = known;
  return (
    <ForeseenGrindingEvidence
      demand={said.demand}
      sendings={said.sendings}
      ended={said.ended}
      wanting={said.wanting}
      ahead={
        typeof lower === "number" && typeof upper === "number" && typeof days === "number"
          ? { lower, upper, days }
          : null
      }
    />
  );
}
