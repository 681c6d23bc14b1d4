/** Why does it say so? The records behind one forecast: a drawing, the same as a table, and how it was worked out. */
import type { FunctionComponent } from "preact";
import { ForeseenYields } from "../batches/ForeseenYields";
import { route } from "../route";
import { ForeseenMarks } from "../soak/ForeseenMarks";
import { NoEvidence } from "../workshop/evidence/Evidence";
import { DueEvidence } from "./foreseen_due";
import { EdgeEvidence, GrindingEvidence } from "./foreseen_edges";
import { PaceEvidence, WatchEvidence } from "./foreseen_pace";
import { ReadingPage, ScrewPage } from "./foreseen_reading";

const rooms: Record<string, FunctionComponent<{ subject: string }>> = {
  soak: ForeseenMarks,
  yields: ForeseenYields,
  edge: EdgeEvidence,
  grinding: GrindingEvidence,
  due: DueEvidence,
  screw: ScrewPage,
  reading: ReadingPage,
  pace: PaceEvidence,
  watch: WatchEvidence,
};

export default function EvidencePage() {
  const [what = "", subject = "all"] = route.value.rest;
  const Room = rooms[what];
  return Room ? <Room key={`${what}/${subject}`} subject={subject} /> : <NoEvidence />;
}
