/** What does the set-up show? Joins the machine, its blade, its settings, the lot that lies ready, and the last time. */
import { readLot } from "../batches/model";
import { edgeAt, fittedMove } from "../blades/rules";
import { minute, nowText } from "../clock";
import type { Edit } from "../logbook/model";
import { num, text } from "../logbook/read";
import { logbook, newId } from "../logbook/state";
import type { Session } from "../profiling/model";
import { lastActAt, piecesOf } from "../profiling/rules";
import { pieces, sessionAt, sessions } from "../profiling/state";
import { type Answer, type Machine, readChecks, readSetting, type Setting, type What } from "../set_up/model";
import { changedSince, type LastTime, OF_ROW, SET_ROWS, setSince, settingsOf, slipOf } from "../set_up/rules";
import type { SetUpFacts } from "../set_up/SetUp";
import { benchFacts, profilers } from "./bench_facts";
import { dues, labelOf, piecesOn, timeline } from "./care_facts";

const lotOf = (id: string | null) =>
  id === null
    ? null
    : (logbook
        .rows("lot")
        .map(readLot)
        .find((lot) => lot.id === id) ?? null);

/** A machine's settings, newest first. */
export const settingsAt = (machine: string): Setting[] =>
  settingsOf(
    machine,
    logbook.rows("setting").flatMap((row) => readSetting(row) ?? []),
  );

/** What the change of blade undid, and nobody set or found right since. */
export function undoneOn(machine: string): What[] {
  const fitted = fittedMove(timeline.value, machine)?.at ?? "";
  const own = logbook.rows("session").filter((row) => text(row, "machine") === machine);
  const isRight = (what: What): boolean =>
    own.some((row) => {
      const said = row.fields[`check/${what}`];
      return said?.value === "good" && said.when > fitted;
    });
  const all = settingsAt(machine);
  return SET_ROWS.filter(
    (what) => all[0]?.[OF_ROW[what]] != null && setSince(what, all) < fitted && !isRight(what),
  );
}

function lastTime(machine: string, present: Session | null): (LastTime & { session: string }) | null {
  const began = present?.began ?? nowText();
  const last = sessions.value
    .filter(
      (session) =>
        session.machine === machine &&
        session.id !== present?.id &&
        session.joinedTo === null &&
        session.began !== null &&
        session.began < began,
    )
    .sort((a, b) => ((a.began ?? "") < (b.began ?? "") ? 1 : -1))[0];
  if (last === undefined || last.began === null) return null;
  const end = new Date(
    Math.max(
      lastActAt(last, piecesOf(last, sessions.value, pieces.value)),
      Date.parse(last.ended ?? last.began),
    ),
  ).toISOString();
  const batch = logbook.row("batch", last.batches.at(-1) ?? "");
  const lot = text(batch, "lot");
  const setting = settingsAt(machine).find((each) => each.at <= end);
  return {
    session: last.id,
    began: end,
    blade: edgeAt(timeline.value, machine, end)?.blade ?? null,
    lot,
    gouge_mm: lot === null ? null : num(logbook.row("lot", lot), "gouge_mm"),
    setting: setting?.id ?? null,
  };
}

/** Answers that a later change of blade made void are left out. */
function standing(session: Session | null, fitted: string | null): Partial<Record<What, Answer>> {
  const row = session === null ? undefined : logbook.row("session", session.id);
  const checks = readChecks(row);
  if (fitted === null) return checks;
  for (const what of ["edge", "projection", "middle_stop", "shoulder_stop", "scrap"] as const) {
    const said = row?.fields[`check/${what}`]?.when;
    if (said !== undefined && said < fitted) delete checks[what];
  }
  return checks;
}

/** `in_water_min`: minutes that the next piece has been in the water. */
export function setUpFacts(machine: Machine, in_water_min: number | null): SetUpFacts {
  const session = sessionAt(machine.id);
  const batch = benchFacts.value.batch?.id ?? null;
  const lot = lotOf(batch === null ? null : text(logbook.row("batch", batch), "lot"));
  const fitted = fittedMove(timeline.value, machine.id);
  const blade = fitted?.blade ?? null;
  const settings = settingsAt(machine.id);
  const setting = settings[0] ?? null;
  const oil = dues.value.filter(
    (due) => due.is_due && due.task.what === "oil" && due.task.machine === machine.id,
  );
  const last = lastTime(machine.id, session);
  const checks = standing(session, fitted?.at ?? null);
  const edge_pieces = blade === null ? 0 : piecesOn(blade);
  const changed = changedSince(last, {
    machine,
    blade,
    fitted_at: fitted?.at ?? null,
    edge_pieces,
    setting,
    lot: lot?.id ?? null,
    gouge_mm: lot?.gouge_mm ?? null,
    is_oil_due: oil.length > 0,
  });
  const oiled = (): Edit[] =>
    oil.map(({ task }) => ({
      kind: "care_done",
      record: newId(),
      set: { task: task.id, at: nowText(), what: "done" },
    }));
  return {
    at: {
      machine: machine.id,
      session: session?.id ?? null,
      batch,
      setting: setting?.id ?? null,
      counts_turns: machine.counts_turns,
      oiled,
    },
    machine,
    others: profilers.value.filter((other) => other.id !== machine.id),
    blade: blade === null ? null : { id: blade, label: labelOf(blade) ?? "?", pieces: edge_pieces },
    setting,
    settings,
    lot: lot === null ? null : { id: lot.id, label: lot.label ?? "?", gouge_mm: lot.gouge_mm },
    last: last === null ? null : { at: last.began, gouge_mm: last.gouge_mm },
    in_water_min,
    now: minute.value,
    changed,
    checks,
    slip: slipOf(changed, checks),
  };
}
