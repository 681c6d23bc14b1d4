/** What a care task is called, where it stands outside its own room. */
import type { CareTask } from "../care/model";
import { text } from "../logbook/read";
import { logbook } from "../logbook/state";

const WHAT = {
  oil: "Oil",
  clean: "Clean",
  look: "Look at the edge",
  change: "Change the blade",
  grind: "Grind",
  other: "Care",
} as const;
const TOOL = {
  gouger: "gouger",
  shaper: "shaper",
  knife: "knife",
  reamer: "reamer",
  mandrel: "mandrel",
  other: "tool",
} as const;

/** The maker's own words, else what and whereon. */
export function dueName(task: CareTask): string {
  if (task.words !== null && task.words !== "") return task.words;
  const on =
    task.machine !== null
      ? text(logbook.row("machine", task.machine), "name")
      : task.tool !== null
        ? TOOL[task.tool]
        : null;
  return on === null ? WHAT[task.what] : `${WHAT[task.what]}: ${on}`;
}
