/** Why does it say so? The records behind one forecast: a drawing, the same as a table, and how it was worked out. */
import type { FunctionComponent } from "preact";
import { ForeseenYields } from "../batches/ForeseenYields";
import { route } from "../route";
import { NoEvidence } from "../workshop/evidence/Evidence";

const rooms: Record<string, FunctionComponent<{ subject: string }>> = {
  yields: ForeseenYields,
};

export default function EvidencePage() {
  const [what = "", subject = "all"] = route.value.rest;
  const Room = rooms[what];
  return Room ? <Room key={`${what}/${subject}`} subject={subject} /> : <NoEvidence />;
}
