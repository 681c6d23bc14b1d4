/** The phone's store, exchange and worker with nothing around them: one button that writes one note. */

import { effect } from "@preact/signals";
import { logbook, newId } from "src/logbook/state";
import { startBeside } from "src/offline/start";
import { clockJump, inSession, readyOffline } from "src/offline/state";

const at = (id: string) => document.getElementById(id) as HTMLElement;

await logbook.open();

at("write").addEventListener("click", () => {
  const record = newId();
  const { saved } = logbook.write([{ kind: "note", record, set: { text: "one" } }]);
  // the tests hear this line: from here on the note has been shown as saved
  saved.then(() => console.log(`saved ${record}`));
});

effect(() => {
  const ids = logbook.rows("note").map((row) => row.id);
  at("shown").textContent = ids.join(" ");
  at("shown").dataset.count = String(ids.length);
});
effect(() => {
  at("keeping").textContent = logbook.status.value.keeping;
  at("unsent").textContent = String(logbook.status.value.unsent);
});
effect(() => {
  at("ready_offline").textContent = readyOffline.value ? "ready offline" : "";
});
effect(() => {
  at("clock_jump").textContent = clockJump.value ? String(clockJump.value.by_ms) : "";
});
effect(() => {
  at("questions").replaceChildren(
    ...logbook.questions.value.map(({ kind, act }) => {
      const line = document.createElement("li");
      line.dataset.kind = kind;
      const yes = document.createElement("button");
      yes.textContent = kind;
      yes.addEventListener("click", () => act?.());
      line.append(yes);
      return line;
    }),
  );
});

Object.assign(window, { inSession });
document.body.dataset.open = "yes";
startBeside();
