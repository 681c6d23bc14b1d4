/** What is to be done, for which machine or tool, how often? A usual one is one tap; its figures can be changed. */
import { useState } from "preact/hooks";
import { go } from "../route";
import { Page, Scribed, Select, Stepper, TextField } from "../workshop";
import { CARE_WHATS, type CareTask, TOOLS, type Tool } from "./model";
import { PRESETS } from "./rules";
import { changeTask, type NewTask, newTask } from "./state";
import * as words from "./words";
import { everyWords, taskName, tool_words, what_words } from "./words";
import "./screen.css";

export interface ForMachine {
  id: string;
  name: string;
}

/** The usual ones that are not written down yet, for each machine and tool. */
export function Presets(p: {
  machines: readonly ForMachine[];
  tasks: readonly CareTask[];
  onOwn: () => void;
}) {
  const { machines, tasks } = p;
  const usual = PRESETS.flatMap((preset): { task: NewTask; name: string }[] => {
    const figures = {
      what: preset.what,
      words: null,
      every_pieces: preset.every_pieces,
      every_sessions: preset.every_sessions,
      every_days: preset.every_days,
    };
    const tool = preset.for === "machine" ? null : preset.for;
    const where =
      tool === null
        ? machines.map((machine) => ({
            machine: machine.id as string | null,
            name: machine.name as string | null,
          }))
        : [{ machine: null, name: null }];
    return where.map(({ machine, name }) => ({
      task: { ...figures, machine, tool },
      name: taskName({ what: preset.what, words: null, tool }, machines.length > 1 ? name : null),
    }));
  }).filter(
    ({ task }) =>
      !tasks.some(
        (each) => each.what === task.what && each.machine === task.machine && each.tool === task.tool,
      ),
  );
  const keep = (task: NewTask): void => {
    newTask(task);
    go("care");
  };
  return (
    <Page
      title={words.new_task}
      sub={words.presets_sub}
      next={{ label: words.own, onTake: p.onOwn }}
      extra={[{ label: words.back, onTake: () => go("care") }]}
    >
      <h2>{words.presets}</h2>
      <div class="stack">
        {usual.map(({ task, name }) => (
          <Scribed key={name} wide label={name} sub={everyWords(task)} onTake={() => keep(task)} />
        ))}
      </div>
    </Page>
  );
}

export function TaskWritten(p: { machines: readonly ForMachine[]; task: CareTask | null }) {
  const { task, machines } = p;
  const [what, setWhat] = useState(task?.what ?? "oil");
  const [on, setOn] = useState<string>(task?.tool ?? task?.machine ?? machines[0]?.id ?? "other");
  const [own, setOwn] = useState(task?.words ?? "");
  const [pieces, setPieces] = useState(task?.every_pieces ?? 0);
  const [sessions, setSessions] = useState(task?.every_sessions ?? 0);
  const [days, setDays] = useState(task?.every_days ?? 14);
  const tool: Tool | null = TOOLS.find((each) => each === on) ?? null;
  const keep = (): void => {
    const written: NewTask = {
      what,
      words: own.trim() === "" ? null : own.trim(),
      machine: tool === null ? on : null,
      tool,
      every_pieces: pieces || null,
      every_sessions: sessions || null,
      every_days: days || null,
    };
    if (task === null) newTask(written);
    else changeTask(task.id, { ...written });
    go("care");
  };
  return (
    <Page
      title={task === null ? words.new_task : words.change_it}
      next={{
        label: words.keep,
        sub: task === null ? words.keep_sub : undefined,
        onTake: keep,
        disabled: pieces + sessions + days === 0,
      }}
      extra={[{ label: words.back, onTake: () => go("care") }]}
    >
      <Select
        label={words.what}
        value={what}
        options={CARE_WHATS.map((value) => ({ value, label: what_words[value] }))}
        onChange={setWhat}
      />
      <Select
        label={words.for_what}
        value={on}
        onChange={setOn}
        options={[
          ...machines.map(({ id, name }) => ({ value: id, label: name })),
          ...TOOLS.map((value) => ({ value: value as string, label: tool_words[value] })),
        ]}
      />
      <TextField label={words.own_words} value={own} onChange={setOwn} maxLength={120} />
      <p class="quiet">{words.none}</p>
      <Stepper label={words.by_pieces} value={pieces} max={100_000} step={10} onChange={setPieces} />
      <Stepper label={words.by_sessions} value={sessions} max={1000} onChange={setSessions} />
      <Stepper label={words.by_days} value={days} max={3650} onChange={setDays} />
    </Page>
  );
}
