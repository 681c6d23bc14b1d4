// How many pieces are left in an edge, by what the server fitted, and which blades go to be ground now?

import type { Value, Values } from "../logbook/model";
import { whereReached } from "../workshop/foreseen_rules";

/** A Weibull law that may be the true one, and how much speaks for it. `scale` in pieces. */
export interface Law {
  shape: number;
  scale: number;
  weight: number;
}

/** A step of the part of edges that last: [pieces, part, its standard error, edges that had come so far]. */
export type Step = readonly [pieces: number, part: number, error: number, edges: number];

export interface Life {
  laws: readonly Law[];
  scale: number;
  scaleFrom: number;
  scaleTo: number;
  shape: number;
  /** Edges that went off here, and those that still cut or were taken out before. */
  ended: number;
  cutting: number;
  /** So many more and the maker's own edges say more than common practice. */
  wanting: number;
  steps: readonly Step[];
  /** How many ordinary pieces one of this lot wears as; a lot that is not told counts once. */
  factors: ReadonlyMap<string, number>;
}

export interface EdgeSlip {
  machine: string | null;
  life: number;
  /** As the slip was made: pieces, and the same in ordinary pieces. */
  pieces: number;
  worn: number;
  limit: number;
  lookAt: number;
  pace: Value | undefined;
  /** It lasts otherwise than the others here: because of its blade, or of its machine; then `law` is its own. */
  apart: "blade" | "machine" | null;
  law: Life | null;
}

const num = (value: Value | undefined): number | null =>
  typeof value === "number" && Number.isFinite(value) ? value : null;
const numbers = (value: Value | undefined): number[] =>
  Array.isArray(value) ? value.filter((n): n is number => typeof n === "number" && Number.isFinite(n)) : [];
const lines = (value: Value | undefined, width: number): number[][] =>
  (Array.isArray(value) ? value.map(numbers) : []).filter((line) => line.length === width);
const part = (value: Value | undefined): Values =>
  typeof value === "object" && value !== null && !Array.isArray(value) ? value : {};

export function readLife(body: Values | undefined): Life | null {
  const laws = lines(body?.["nodes"], 3)
    .map(([shape = 0, scale = 0, weight = 0]): Law => ({ shape, scale, weight }))
    .filter((law) => law.shape > 0 && law.scale > 0 && law.weight > 0);
  if (body === undefined || laws.length === 0) return null;
  const [scaleFrom = 0, scaleTo = 0] = numbers(body["scale_interval"]);
  return {
    laws,
    scaleFrom,
    scaleTo,
    scale: num(body["scale"]) ?? 0,
    shape: num(body["shape"]) ?? 0,
    ended: num(body["ended"]) ?? 0,
    cutting: num(body["cutting"]) ?? 0,
    wanting: num(body["wanting"]) ?? 0,
    steps: lines(body["steps"], 4).map(([n = 0, p = 0, e = 0, at = 0]): Step => [n, p, e, at]),
    factors: new Map(
      Object.entries(part(part(body["wear"])["lots"])).flatMap(([lot, factor]): [string, number][] =>
        typeof factor === "number" && factor > 0 ? [[lot, factor]] : [],
      ),
    ),
  };
}

export function readEdge(body: Values | undefined): EdgeSlip | null {
  const pieces = num(body?.["pieces"]);
  const life = num(body?.["life"]);
  if (body === undefined || pieces === null || life === null) return null;
  const machine = body["machine"];
  const limit = num(body["limit"]) ?? 200;
  return {
    machine: typeof machine === "string" ? machine : null,
    life,
    pieces,
    worn: num(body["worn"]) ?? pieces,
    limit,
    lookAt: Math.min(limit, num(body["look_at"]) ?? limit),
    pace: body["pace"],
    apart: body["apart"] === "blade" || body["apart"] === "machine" ? body["apart"] : null,
    law: readLife(part(body["law"])),
  };
}

/** A law, and how much of it an edge has spent: its cumulative hazard. */
type Spent = Law & { spent: number };

const spend = (laws: readonly Law[], pieces: number): Spent[] =>
  laws.map((law) => ({ ...law, spent: (pieces / law.scale) ** law.shape }));

/** The laws weighed anew: those under which an edge seldom lasts so long have less to say. */
function standing(laws: readonly Law[], soFar: number): Spent[] {
  const now = spend(laws, soFar);
  const logs = now.map(({ weight, spent }) => Math.log(weight) - spent);
  const most = Math.max(...logs);
  const total = logs.reduce((sum, log) => sum + Math.exp(log - most), 0);
  return now.map((law, k) => ({ ...law, weight: Math.exp((logs[k] ?? 0) - most) / total }));
}

function lasts(now: readonly Spent[], soFar: number, more: number): number {
  const stretched = Math.log1p(more / soFar); // both powers would be far larger than their difference, deep in a life
  let lasting = 0;
  for (const { shape, scale, weight, spent } of now)
    lasting +=
      weight * Math.exp(soFar > 0 ? -spent * Math.expm1(shape * stretched) : -((more / scale) ** shape));
  return lasting;
}

/** The chance that an edge that has cut so many pieces cuts `more` further ones. */
export const chanceOfLasting = (laws: readonly Law[], soFar: number, more: number): number =>
  lasts(standing(laws, soFar), soFar, more);

/** The part of fresh edges that still cut after so many pieces. */
export const partThatLasts = (laws: readonly Law[], pieces: number): number =>
  lasts(spend(laws, 0), 0, pieces);

/** Between which parts that part lies 9 times in 10, over all that the law may be. */
export function partRange(laws: readonly Law[], pieces: number): [number, number] {
  const parts = laws
    .map(({ shape, scale, weight }) => ({ weight, part: Math.exp(-((pieces / scale) ** shape)) }))
    .sort((a, b) => a.part - b.part);
  const at = (chance: number): number => {
    let soFar = 0;
    let last = { part: parts[0]?.part ?? 0, chance: 0 };
    for (const { weight, part } of parts) {
      const middle = soFar + weight / 2; // each law stands for those round it
      if (middle >= chance)
        return last.part + ((part - last.part) * (chance - last.chance)) / (middle - last.chance);
      last = { part, chance: middle };
      soFar += weight;
    }
    return last.part;
  };
  return [at(0.05), at(0.95)];
}

/** Counts of pieces left; with each of these chances no more than that are. */
export function quantilesLeft(laws: readonly Law[], soFar: number, chances: readonly number[]): number[] {
  const now = standing(laws, soFar);
  const about = Math.max(...now.map(({ scale }) => scale)) / 2;
  return chances.map((chance) => whereReached((more) => 1 - lasts(now, soFar, more), chance, about));
}

export const LEVELS = [0.05, 0.5, 0.95] as const;
/** Counts left that are each as likely as the others, for the day on which the edge is off. */
export const PARTS: readonly number[] = Array.from({ length: 9 }, (_, k) => (k + 0.5) / 9);

/** Pieces left now, on an edge that has cut `pieces` by what this phone knows; of cane that wears so much. */
export function leftNow(
  life: Life,
  edge: EdgeSlip,
  pieces: number,
  factor: number,
  chances: readonly number[],
): number[] {
  const worn = edge.worn + Math.max(0, pieces - edge.pieces) * factor;
  return quantilesLeft(life.laws, worn, chances).map((n) => n / factor);
}
