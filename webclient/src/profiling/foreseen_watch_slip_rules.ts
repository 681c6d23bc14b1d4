/** By what does this machine watch its edge? A watch slip, read, with what is odd in it passed over. Pure. */
import type { WatchedBy } from "./foreseen_watch_rules";

/** A watch slip, read: by what this machine's edges are watched. */
export interface Watch extends WatchedBy {
  by_age: number;
  rules: readonly string[];
  onceIn: number;
  /** how many pieces to a false alarm, by how keenly it is watched; null: not said */
  choices: { usual: number | null; keener: number | null };
  /** points that measure otherwise than after they were set */
  drifts: readonly { point: string; wet: boolean }[];
  /** log minutes of a piece of a lot on a fresh edge, and how well that is known */
  lotIs: (lot: string) => { centre: number; error: number };
}

type Body = { readonly [name: string]: unknown } | undefined;

const isPair = (value: unknown): value is [number, number] =>
  Array.isArray(value) && typeof value[0] === "number" && typeof value[1] === "number";
const isBody = (value: unknown): value is NonNullable<Body> =>
  typeof value === "object" && value !== null && !Array.isArray(value);

/** Null where too few pieces have been counted, or the slip cannot be read. */
export function readWatch(body: Body): Watch | null {
  const figure = (name: string): number => (typeof body?.[name] === "number" ? (body[name] as number) : 0);
  const fresh = body?.["new"];
  const [sigma, decision, loses] = [figure("sigma"), figure("decision"), figure("loses")];
  if (!isPair(fresh) || sigma <= 0 || decision <= 0 || loses <= 0) return null;
  const choices = isBody(body?.["choices"]) ? body["choices"] : {};
  const choice = (name: string): number | null => (typeof choices[name] === "number" ? choices[name] : null);
  const lots = isBody(body?.["lots"]) ? body["lots"] : {};
  const readings: unknown[] = Array.isArray(body?.["readings"]) ? body["readings"] : [];
  const rules: unknown[] = Array.isArray(body?.["rules"]) ? body["rules"] : [];
  return {
    sigma,
    decision,
    loses,
    tau: figure("tau"),
    blunt_loses: figure("blunt_loses"),
    by_age: figure("by_age"),
    rules: rules.filter((rule): rule is string => typeof rule === "string"),
    onceIn: figure("once_in"),
    choices: { usual: choice("usual"), keener: choice("keener") },
    good: figure("good"),
    drifts: readings.flatMap((one) =>
      isBody(one) && typeof one["drifted_at"] === "number" && typeof one["point"] === "string"
        ? [{ point: one["point"], wet: one["wet"] === true }]
        : [],
    ),
    lotIs: (lot) => {
      const [centre, error] = isPair(lots[lot]) ? lots[lot] : fresh;
      return { centre, error };
    },
  };
}
