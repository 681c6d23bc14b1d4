/** How far, and which way? The screw as it stands and as it goes; moved, it is a new setting with its reason. */
import { useState } from "preact/hooks";
import { ScrewTurn } from "../drawings/ScrewHead";
import { parseNumber } from "../language/format";
import { lengthSteps } from "../language/length";
import { go } from "../route";
import { Choice, Page, Stepper, TextField } from "../workshop";
import { ForeseenSlot } from "../workshop/foreseen_slot";
import type { Stop, What } from "./model";
import { readTurns } from "./rules";
import { rowLabel, type SetUpFacts } from "./SetUp";
import { answer, set } from "./state";
import { Whys } from "./Whys";
import * as words from "./words";
import { sense_words, stopWords, turns } from "./words";
import "./screen.css";

const START: Readonly<Record<Stop["way"], Stop>> = {
  turns: { way: "turns", value: 1 },
  mm: { way: "mm", value: 3 },
  words: { way: "words", value: "" },
};

/** `row`: the row of the slip that is good afterwards. */
export function MoveScrew(p: { facts: SetUpFacts; what: "middle_stop" | "shoulder_stop"; row: What }) {
  const { facts, what } = p;
  const stood = facts.setting?.[what] ?? null;
  const [stop, setStop] = useState<Stop>(stood ?? START.turns);
  const [why, setWhy] = useState("");
  const blade = facts.blade?.id ?? null;
  const isSame = stood?.way === stop.way && stood.value === stop.value && facts.setting?.blade === blade;
  const moved = (): void => {
    set(facts.machine.id, blade, facts.setting, { [what]: stop }, why);
    answer(facts.at, { [p.row]: "good" });
    go("set-up");
  };
  const by = stop.way === "turns" && stood?.way === "turns" ? stop.value - stood.value : 0;
  return (
    <Page
      title={rowLabel(what, facts)}
      sub={stood === null ? words.not_written : stopWords(stood)}
      bench
      next={{
        label: words.screw_moved,
        sub: words.new_setting,
        onTake: moved,
        disabled: isSame || stop.value === "",
      }}
      extra={[{ label: words.leave, onTake: () => go("set-up") }]}
    >
      {stop.way === "turns" && (
        <>
          <p class="screw-answer">
            <span class="answer">{by === 0 ? words.stays : turns(Math.abs(by))}</span>
            {by !== 0 && (
              <strong> {words.by_turns(sense_words[by > 0 ? "clockwise" : "anticlockwise"])}</strong>
            )}
          </p>
          <p>{words.hold_nut}</p>
          <div class="screw-drawn">
            <ScrewTurn
              eighths={(stood?.way === "turns" ? stood.value : stop.value) * 8}
              by={by * 8}
              nowWords={words.stands_now}
              thenWords={words.goes_to}
              nutWords={words.lock_nut}
            />
          </div>
          <Stepper
            label={words.stands_at}
            unit={words.turns_unit}
            value={stop.value}
            min={-40}
            max={40}
            step={0.125}
            shown={turns}
            read={(typed) => readTurns(typed) ?? parseNumber(typed)}
            onChange={(value) => setStop({ way: "turns", value })}
          />
        </>
      )}
      {stop.way === "mm" && (
        <Stepper
          label={words.stands_at}
          {...lengthSteps()}
          value={stop.value}
          min={0}
          max={100}
          onChange={(value) => setStop({ way: "mm", value })}
        />
      )}
      {stop.way === "words" && (
        <TextField
          label={words.stands_at}
          value={stop.value}
          onChange={(value) => setStop({ way: "words", value })}
          maxLength={200}
        />
      )}
      <ForeseenSlot
        of="screw"
        with={{
          machine: facts.machine,
          what,
          from: stood,
          to: stop,
          onTurns: (by: number) => {
            if (stood?.way === "turns") setStop({ way: "turns", value: stood.value + by });
          },
        }}
      />
      <Whys value={why} onChange={setWhy} />
      <Choice
        legend={words.how_written}
        tiles
        value={stop.way}
        onChange={(way) => setStop(stood?.way === way ? stood : START[way])}
        options={[
          { value: "turns", label: words.way_turns },
          { value: "mm", label: words.way_mm() },
          { value: "words", label: words.way_words },
        ]}
      />
    </Page>
  );
}
