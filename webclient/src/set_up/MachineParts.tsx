/** What is written down of a machine: its screws and threads, its name and the maker's habits. */
import { go } from "../route";
import { Check, Choice, KeptField, Page, Select, Stepper } from "../workshop";
import * as w from "./machine_words";
import { DOES, INSTRUMENTS, type Machine, type Sense } from "./model";
import { pitch_mm } from "./rules";
import { changeMachine } from "./state";
import * as words from "./words";
import { does_words, height, instrument_words, sense_words } from "./words";

const orNull = (value: string): string | null => (value === "" ? null : value);

export function Screws(p: { machine: Machine }) {
  const { machine } = p;
  const wrong = (size: string): string | undefined =>
    size === "" || pitch_mm(size) !== null ? undefined : w.thread_wrong;
  const told = (size: string | null): string => {
    const pitch = size === null ? null : pitch_mm(size);
    return pitch === null ? w.thread_sub : words.per_turn(height(pitch), height(pitch / 8));
  };
  const senses: readonly { value: Sense; label: string }[] = [
    { value: "clockwise", label: sense_words.clockwise },
    { value: "anticlockwise", label: sense_words.anticlockwise },
  ];
  const back = { label: w.back, onTake: () => go("machine", machine.id) };
  return (
    <Page title={w.screws} sub={machine.name} next={back}>
      <KeptField
        label={w.middle_thread}
        value={machine.middle_thread ?? ""}
        sub={told(machine.middle_thread)}
        wrong={wrong}
        onKeep={(size) => changeMachine(machine, { middle_thread: orNull(size) })}
      />
      <Choice
        tiles
        legend={w.lowers(w.middle)}
        options={senses}
        value={machine.middle_lowers}
        onChange={(middle_lowers) => changeMachine(machine, { middle_lowers })}
      />
      <KeptField
        label={w.shoulder_thread}
        value={machine.shoulder_thread ?? ""}
        sub={told(machine.shoulder_thread)}
        wrong={wrong}
        onKeep={(size) => changeMachine(machine, { shoulder_thread: orNull(size) })}
      />
      <Choice
        tiles
        legend={w.lowers(w.shoulder)}
        options={senses}
        value={machine.shoulder_lowers}
        onChange={(shoulder_lowers) => changeMachine(machine, { shoulder_lowers })}
      />
      <p class="quiet">{w.marks}</p>
    </Page>
  );
}

export function Habits(p: { machine: Machine }) {
  const { machine } = p;
  return (
    <Page
      title={w.name_and_habits}
      sub={machine.name}
      next={{ label: w.back, onTake: () => go("machine", machine.id) }}
    >
      <KeptField
        label={w.name}
        value={machine.name}
        onKeep={(name) => name !== "" && changeMachine(machine, { name })}
      />
      <Select
        label={w.what}
        value={machine.does}
        options={DOES.map((value) => ({ value, label: does_words[value] }))}
        onChange={(does) => changeMachine(machine, { does })}
      />
      <Select
        label={w.instrument}
        value={machine.instrument}
        options={INSTRUMENTS.map((value) => ({ value, label: instrument_words[value] }))}
        onChange={(instrument) => changeMachine(machine, { instrument })}
      />
      <KeptField
        label={w.template}
        value={machine.template ?? ""}
        onKeep={(template) => changeMachine(machine, { template: orNull(template) })}
      />
      <Choice
        legend={w.habit}
        value={machine.turn_habit ?? "passes"}
        onChange={(turn_habit) => changeMachine(machine, { turn_habit })}
        options={[
          { value: "passes", label: w.habit_passes, sub: w.habit_passes_sub },
          { value: "halves", label: w.habit_halves, sub: w.habit_halves_sub },
        ]}
      />
      <Check
        label={w.counts_turns}
        sub={w.counts_turns_sub}
        checked={machine.counts_turns}
        onChange={(counts_turns) => changeMachine(machine, { counts_turns })}
      />
      <Stepper
        label={w.bow}
        unit={w.pieces}
        value={machine.bow_after_pieces}
        min={10}
        max={5000}
        step={10}
        onChange={(bow_after_pieces) => changeMachine(machine, { bow_after_pieces })}
      />
      <KeptField
        label={w.note}
        long
        value={machine.note ?? ""}
        onKeep={(note) => changeMachine(machine, { note: orNull(note) })}
      />
    </Page>
  );
}
