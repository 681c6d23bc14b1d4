/** The open questions on Today, a line each; and one of the exchange's opened: its two sides, and what harms nothing. */
import { ClockFace, WrittenSheet } from "../drawings/ClockFace";
import { minute } from "../clock";
import { logbook, type Asked } from "../logbook/state";
import { go } from "../route";
import { press } from "../wet_hands/press";
import { Question, Saved, type Side } from "../workshop";
import { asked_words } from "./asked_words";
import { askedNow, exchangeAsks } from "./today_asked";
import { words } from "./today_words";

export function OpenQuestions() {
  if (askedNow.value.length === 0) return null;
  return (
    <section aria-label={words.also}>
      <h2>{words.also}</h2>
      <ul class="today-care">
        {askedNow.value.map((one) => (
          <li key={one.key}>
            <button type="button" class="today-care-row" {...press(one.onTake)}>
              <strong>{one.label}</strong> <span>{one.sub}</span>
            </button>
          </li>
        ))}
      </ul>
    </section>
  );
}

/** The exchange's question of that id, if it still stands. */
export function askedAt(id: string | undefined): Asked | null {
  return exchangeAsks.value.find((one) => one.id === id) ?? null;
}

export function ExchangeQuestion(p: { asked: Asked }) {
  const { asked } = p;
  const said = asked_words[asked.kind];
  const leave = (): void => {
    // a refused one stays listed until it is put away; the clock's line goes when the clock is right
    if (!["refused", "clock", "update"].includes(asked.kind)) logbook.answered(asked.id);
    go("today");
  };
  return (
    <Question title={said.title(asked.facts)} sub={<Saved />} sides={sidesOf(asked)}
      meanwhile={<>{said.meanwhile}{typeof asked.facts["problem"] === "string" && <> {asked_words.reason(asked.facts["problem"])}</>}</>}
      next={{ label: said.leave, sub: said.leave_sub, onTake: leave }} />
  );
}

function sidesOf(asked: Asked): Side[] {
  const said = asked_words[asked.kind];
  if (asked.kind === "refused") {
    return [
      { label: asked_words.save_file, sub: asked_words.save_file_sub, drawing: <WrittenSheet />, onTake: () => saveAsFile(asked) },
      { label: said.act, sub: said.act_sub, drawing: <WrittenSheet cut={0.3} />, onTake: () => { logbook.answered(asked.id); go("today"); } },
    ];
  }
  if (asked.kind === "clock") {
    const phone = minute.value;
    const off = typeof asked.facts["off_ms"] === "number" ? asked.facts["off_ms"] : 0;
    return [
      { label: said.leave, sub: said.leave_sub, drawing: <Face ms={phone - off} />, onTake: () => go("today") },
      { label: words.look_at_jars, sub: asked_words.clock_line, drawing: <Face ms={phone} />, onTake: () => go("soak") },
    ];
  }
  if (said.act === undefined) return [];
  return [{
    label: said.act,
    sub: said.act_sub,
    onTake: () => {
      if (asked.act) asked.act();
      else go("soak");
    },
  }];
}

function Face(p: { ms: number }) {
  const at = new Date(p.ms);
  return <ClockFace hour={at.getHours()} minute={at.getMinutes()} />;
}

function saveAsFile(asked: Asked): void {
  const link = document.createElement("a");
  link.href = URL.createObjectURL(new Blob([JSON.stringify(asked.facts, null, 2)], { type: "application/json" }));
  link.download = "easelside-not-taken.json";
  link.click();
  setTimeout(() => URL.revokeObjectURL(link.href), 60_000);
}
