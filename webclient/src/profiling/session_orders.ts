/** When does a session pause, go on, end? */
import { nowText } from "../clock";
import type { Edit, Value } from "../logbook/model";
import { logbook } from "../logbook/state";
import type { Session } from "./model";
import { turnsWanted } from "./state";

export function pause(session: Session | null): void {
  if (session) logbook.write([{ kind: "session", record: session.id, set: { paused_at: nowText() } }]);
}

export function goOn(session: Session): void {
  logbook.write([{ kind: "session", record: session.id, set: { paused_at: null } }]);
}

export interface WindDown {
  ticks: Record<string, boolean>;
  leftInWater: number | null;
  note: string | null;
}

/** The session's edits at its end; whoever joins rooms may write others with them. */
export function closing(session: Session, wind: WindDown): Edit {
  turnsWanted.value = null;
  const set: Record<string, Value> = { ended: nowText(), paused_at: null };
  for (const [what, done] of Object.entries(wind.ticks)) set[`wind/${what}`] = done;
  if (wind.leftInWater !== null) set["left_in_water"] = wind.leftInWater;
  if (wind.note !== session.note) set["note"] = wind.note;
  return { kind: "session", record: session.id, set };
}

/** Closed too early: the session goes on. */
export function openAgain(session: Session): void {
  logbook.write([{ kind: "session", record: session.id, set: { ended: null } }]);
}
