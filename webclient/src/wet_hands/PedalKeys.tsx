/** What does my pedal do? The key map as it is written down, one key or two, and keys that this phone has learned. */
import { useEffect, useState } from "preact/hooks";
import { at, text } from "../logbook/read";
import { logbook } from "../logbook/state";
import { Choice, Scribed } from "../workshop";
import { learnedKeys, STARTING_KEYS } from "./keys";
import { learnNextKey } from "./pedal";
import * as words from "./pedal_words";
import { key_names, pedal_map } from "./pedal_words";
import type { PedalKey } from "./rules";
import { ringBell, sound } from "./sound";
import { hasVoice, speak } from "./voice";

export function PedalKeys() {
  const device = logbook.row("device", logbook.device);
  const learned = learnedKeys(at(device, "keys"));
  const said = text(device, "pedal");
  const [learning, setLearning] = useState<PedalKey | null>(null);
  const set = (values: Record<string, string | Record<string, string>>): void => {
    logbook.write([{ kind: "device", record: logbook.device, set: values }]);
  };
  useEffect(() => {
    if (learning === null) return undefined;
    return learnNextKey((key) => {
      set({ keys: { ...learned, [key]: learning } });
      setLearning(null);
    });
  }, [learning]);
  const named = (which: PedalKey, keys: Readonly<Record<string, PedalKey>>): string =>
    Object.keys(keys)
      .filter((key) => keys[key] === which)
      .map((key) => key_names[key] ?? key)
      .join(", ");
  return (
    <section class="stack" aria-labelledby="pedal-title">
      <h2 id="pedal-title">{words.pedals}</h2>
      <Choice
        legend={words.pedals_sub}
        value={said === "one" || said === "two" ? said : null}
        onChange={(pedal) => set({ pedal })}
        options={[
          { value: "one", label: words.one_key, sub: words.one_key_sub },
          { value: "two", label: words.two_keys, sub: words.two_keys_sub },
        ]}
      />
      <h3 class="field-label">{words.what_it_does}</h3>
      <dl class="pedal-map">
        {pedal_map.map((line) => (
          <div key={line.screen}>
            <dt>{line.screen}</dt>
            <dd>
              {words.main}: <strong>{line.main}</strong>
            </dd>
            {line.ring !== "" && (
              <dd>
                {words.in_ring}: {line.ring}
              </dd>
            )}
          </div>
        ))}
      </dl>
      <p>
        {words.starting}: {words.right_key}: {named("take", STARTING_KEYS)}; {words.left_key}:{" "}
        {named("step", STARTING_KEYS)}.
      </p>
      {Object.keys(learned).length > 0 && (
        <p>
          {words.learned}: {words.right_key}: {named("take", learned) || "–"}; {words.left_key}:{" "}
          {named("step", learned) || "–"}.
        </p>
      )}
      {learning !== null && (
        <p role="status">
          <strong>{words.learning}</strong>
        </p>
      )}
      <div class="side-by-side">
        <Scribed label={words.learn_take} chosen={learning === "take"} onTake={() => setLearning("take")} />
        <Scribed label={words.learn_step} chosen={learning === "step"} onTake={() => setLearning("step")} />
      </div>
      {Object.keys(learned).length > 0 && (
        <Scribed wide label={words.forget} onTake={() => set({ keys: {} })} />
      )}
      <Scribed
        wide
        label={words.try_bell}
        sub={
          sound.value === "missing" ? words.no_sound : hasVoice() ? words.try_bell_sub : words.voice_missing
        }
        onTake={() => {
          ringBell();
          speak(words.try_said);
        }}
      />
    </section>
  );
}
