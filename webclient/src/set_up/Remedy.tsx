/** What to do about it, and back to the slip. What is moved becomes a new setting, with why. */

import { useState } from "preact/hooks";
import { EdgeToLight } from "../drawings/EdgeToLight";
import { Projection } from "../drawings/Projection";
import { sentence } from "../language/format";
import { lengthSteps } from "../language/length";
import { go } from "../route";
import { Caution, Page, Stepper, TextField } from "../workshop";
import { ManualFirst, OilCaution } from "../workshop/Cautions";
import { MoveScrew } from "./MoveScrew";
import type { Setting, What } from "./model";
import { remedies, rows, wrongs } from "./row_words";
import { differs } from "./rules";
import { rowLabel, type SetUpFacts } from "./SetUp";
import { answer, set } from "./state";
import { Whys } from "./Whys";
import * as words from "./words";
import "./screen.css";

export interface RemedyDoes {
  /** The lot's gouge was measured anew, in mm. */
  onGouge: (gouge_mm: number) => void;
}

export function Remedy(p: { facts: SetUpFacts; what: What; code: string; does: RemedyDoes }) {
  const { facts, what, code } = p;
  if (what === "middle_stop" || what === "shoulder_stop")
    return <MoveScrew facts={facts} what={what} row={what} />;
  if (what === "scrap" && code === "thick") return <MoveScrew facts={facts} what="middle_stop" row={what} />;
  if (what === "projection" || what === "scrap") return <BladeOut {...p} />;
  if (what === "lot") return <Gouge {...p} />;
  if (what === "template" && code === "other") return <OtherTemplate {...p} />;
  return <Steps {...p} />;
}

const leave = { label: words.back, onTake: () => go("set-up") };

function title(p: { facts: SetUpFacts; what: What; code: string }): { title: string; sub: string } {
  return {
    title: sentence(wrongs[p.what].find((each) => each.code === p.code)?.label ?? rows[p.what].label),
    sub: rowLabel(p.what, p.facts),
  };
}

function Lines(p: { code: string }) {
  return (
    <ol class="steps">
      {(remedies[p.code] ?? []).map((line) => (
        <li key={line}>{line}</li>
      ))}
    </ol>
  );
}

/** The row is put in order: good, and back to the slip. What stays as it stood is no new setting. */
function done(
  facts: SetUpFacts,
  what: What,
  moved?: Partial<Pick<Setting, "projection_mm" | "template">>,
  why = "",
): void {
  const blade = facts.blade?.id ?? null;
  if (moved && differs(moved, facts.setting, blade)) set(facts.machine.id, blade, facts.setting, moved, why);
  answer(facts.at, { [what]: "good" });
  go("set-up");
}

function Steps(p: { facts: SetUpFacts; what: What; code: string }) {
  const { facts, what } = p;
  const next =
    what === "edge"
      ? {
          label: words.change_blade,
          sub: words.change_blade_sub,
          onTake: () => go("blade-change", facts.machine.id),
        }
      : what === "soaked"
        ? { label: words.to_soak, onTake: () => go("soak") }
        : {
            label: what === "pivot" ? words.oiled : words.tightened,
            sub: words.row_is_good,
            onTake: () => done(facts, what),
          };
  return (
    <Page {...title(p)} bench next={next} extra={[leave]}>
      {what === "edge" && (
        <div class="mark-drawn">
          <EdgeToLight seen={p.code === "nicked" ? "nicked" : "hollow"} />
        </div>
      )}
      <Lines code={p.code} />
      {what === "edge" && <Caution order={words.fingers_edge} text={words.fingers_edge_text} />}
      {what === "pivot" && <OilCaution />}
      <ManualFirst />
    </Page>
  );
}

function BladeOut(p: { facts: SetUpFacts; what: What; code: string }) {
  const { facts } = p;
  const [out, setOut] = useState(facts.setting?.projection_mm ?? 0.05);
  const [why, setWhy] = useState("");
  const next = {
    label: words.blade_set,
    sub: words.new_setting,
    onTake: () => done(facts, p.what, { projection_mm: out }, why),
  };
  return (
    <Page {...title(p)} bench next={next} extra={[leave]}>
      <Projection
        proud={p.code === "too_far" ? "too_far" : "not_biting"}
        edgeWords={words.straight_edge}
        soleWords={words.sole}
      />
      <Lines code={p.code} />
      <Caution order={words.fingers_clear} text={words.fingers_clear_text} />
      <Stepper label={words.projection} {...lengthSteps()} value={out} min={0} max={1} onChange={setOut} />
      <Whys value={why} onChange={setWhy} />
    </Page>
  );
}

function Gouge(p: { facts: SetUpFacts; what: What; code: string; does: RemedyDoes }) {
  const { facts } = p;
  const [gouge, setGouge] = useState(facts.lot?.gouge_mm ?? facts.last?.gouge_mm ?? 1.25);
  const keep = (): void => {
    p.does.onGouge(gouge);
    done(facts, "lot");
  };
  return (
    <Page
      {...title(p)}
      bench
      next={{ label: words.gouge_kept, sub: words.gouge_sub, onTake: keep, disabled: facts.lot === null }}
      extra={[leave]}
    >
      <p>
        {rows.lot.look} {rows.lot.tolerance}
      </p>
      <Stepper label={words.gouge} {...lengthSteps()} value={gouge} min={0.3} max={3} onChange={setGouge} />
    </Page>
  );
}

function OtherTemplate(p: { facts: SetUpFacts; what: What; code: string }) {
  const { facts } = p;
  const [name, setName] = useState(facts.setting?.template ?? facts.machine.template ?? "");
  const [why, setWhy] = useState("");
  const keep = (): void => done(facts, "template", { template: name.trim() }, why);
  return (
    <Page
      {...title(p)}
      bench
      next={{ label: words.template_on, sub: words.new_setting, onTake: keep, disabled: name.trim() === "" }}
      extra={[leave]}
    >
      <TextField label={words.template_name} value={name} onChange={setName} maxLength={80} />
      <Whys value={why} onChange={setWhy} />
    </Page>
  );
}
