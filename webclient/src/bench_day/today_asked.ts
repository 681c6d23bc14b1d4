/** What waits for an answer? Questions of the exchange, of two blades in one machine, of a piece or a session on two phones. */
import { computed } from "@preact/signals";
import type { Asked } from "../logbook/asked";
import { logbook } from "../logbook/state";
import { inSession } from "../offline/state";
import { go } from "../route";
import { asked_words } from "./asked_words";
import { type AskedOfMaker, questions } from "./questions";

/** Nothing reloads while pieces are being cut, so it is not asked either. */
export const exchangeAsks = computed((): Asked[] =>
  logbook.questions.value.filter(
    (one) => (one.kind !== "update" || !inSession.value) && !(one.kind === "lost" && isByTheClock(one.facts)),
  ),
);

/** What a phone fills in of a piece that is done: where two had it in hand, its outcomes are asked about. */
const isByTheClock = ({ record_kind, fields }: Asked["facts"]): boolean =>
  record_kind === "piece" &&
  Array.isArray(fields) &&
  fields.every((name) => name === "began" || name === "at");

export const askedNow = computed((): AskedOfMaker[] => [
  ...exchangeAsks.value.map(
    (one): AskedOfMaker => ({
      key: one.id,
      label: asked_words[one.kind].title(one.facts),
      sub: asked_words[one.kind].leave_sub,
      onTake: () => go("today", one.id),
    }),
  ),
  ...questions.value,
]);
