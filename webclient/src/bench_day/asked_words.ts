/** The words of what the exchange, the phone's clock and its store ask or tell: what happened, and what to do now. */
import { wait } from "../language/format";
import type { Asked } from "../logbook/asked";
import type { Value } from "../logbook/model";

type Facts = { [name: string]: Value };

interface AskedWords {
  title: (facts: Facts) => string;
  meanwhile: string;
  /** what harms nothing, in the edge */
  leave: string;
  leave_sub: string;
  /** the other way, where there is one */
  act?: string;
  act_sub?: string;
}

function kindOf(facts: Facts): string {
  const kind = facts["kind"];
  return typeof kind === "string" ? kind.replaceAll("_", " ") : "note";
}

function off_min(facts: Facts): number {
  return typeof facts["off_ms"] === "number" ? facts["off_ms"] / 60_000 : 0;
}

export const asked_words: Record<Asked["kind"], AskedWords> & {
  reason: (problem: string) => string;
  by_workshop: string;
  by_phone: string;
  save_file: string;
  save_file_sub: string;
} = {
  refused: {
    title: (facts) => `One ${kindOf(facts)} was not taken by the workshop.`,
    meanwhile:
      "It is out of what is shown and not thrown away. Nothing stands behind it; nothing else waits.",
    leave: "Leave it here",
    leave_sub: "kept on this phone, listed",
    act: "Put it away",
    act_sub: "it is gone from this phone then",
  },
  clock: {
    title: (facts) =>
      `This phone's clock is ${wait(Math.abs(off_min(facts)))} ${off_min(facts) > 0 ? "ahead" : "behind"}.`,
    meanwhile:
      "Counts are safe either way. Put the clock right in the phone's settings; this line then goes by itself.",
    leave: "Ask me later",
    leave_sub: "it stays in Today",
  },
  clock_jump: {
    title: () => "This phone's clock was moved.",
    meanwhile: "Look at what is in the water: is its start still right?",
    leave: "To Today",
    leave_sub: "nothing is lost",
    act: "Look at the jars",
    act_sub: "the start can be put right",
  },
  restored: {
    title: () => "The workshop's records came back from a backup.",
    meanwhile: "What this phone still had was sent again. Nothing of yours is missing here.",
    leave: "All right",
    leave_sub: "nothing to do for this",
  },
  update: {
    title: () => "A new Easelside is here and waits.",
    meanwhile: "Everything goes on as it is until you say so. It never takes over in a session.",
    leave: "Later",
    leave_sub: "asked again at wind down",
    act: "Now",
    act_sub: "ten seconds, then back here",
  },
  evicted: {
    title: () => "This phone had thrown its records away.",
    meanwhile:
      "The browser cleared its store. What had been sent comes back from the workshop; what had not is lost.",
    leave: "Understood",
    leave_sub: "keep Easelside on the home screen: it is kept longer there",
  },
  brought_back: {
    title: () => "The browser had lost this phone's records.",
    meanwhile:
      "What had not been sent was kept twice and is here again. The rest comes back from the workshop.",
    leave: "All right",
    leave_sub: "nothing is lost",
  },
  lost: {
    title: () => "Another device wrote there too.",
    meanwhile: "Its entry stands. Yours stays in the history of that record.",
    leave: "All right",
    leave_sub: "nothing is thrown away",
  },
  take_back: {
    title: () => "A take-back came too late.",
    meanwhile: "Something newer stood there already, and still stands.",
    leave: "All right",
    leave_sub: "put it right where it stands, if it is wrong",
  },
  blocked: {
    title: () => "Another window holds an older Easelside open.",
    meanwhile: "Close the other windows of Easelside. What you write here is kept until then.",
    leave: "Understood",
    leave_sub: "it goes on by itself",
  },
  reason: (problem) => `Why: ${problem}`,
  by_workshop: "by the workshop's clock",
  by_phone: "by this phone's",
  save_file: "Save it as a file",
  save_file_sub: "keeps every word outside the records",
};
