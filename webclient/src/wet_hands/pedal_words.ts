/** The words about what a pedal does, which keys it sends, and how a bell sounds. */

export const pedals = "Pedal";
export const pedals_sub = "a page-turner or a foot switch";
export const one_key = "one key";
export const one_key_sub = "two quick presses open the frame; a rest of 3 s takes what it holds";
export const two_keys = "two keys";
export const two_keys_sub = "left opens the frame, steps; right takes";
export const starting = "Known from the start";
export const right_key = "right, or the only key";
export const left_key = "left";
export const learned = "Learned on this phone";
export const learn_take = "Show me the right key";
export const learn_step = "Show me the left key";
export const learning = "Press it now.";
export const forget = "Forget learned keys";
export const what_it_does = "What it does";
export const main = "one key, or right";
export const in_ring = "frame";
export const try_bell = "Ring once now";
export const try_bell_sub = "as it rings when a soak is ready";
export const try_said = "This is how it sounds.";
export const no_sound = "This phone cannot make a sound here.";
export const voice_missing = "the bell alone: this phone has no English voice of its own";

/** Names of keys as a person would say them. */
export const key_names: Readonly<Record<string, string>> = {
  " ": "Space",
  Enter: "Enter",
  PageDown: "Page down",
  PageUp: "Page up",
  ArrowRight: "Right",
  ArrowDown: "Down",
  ArrowLeft: "Left",
  ArrowUp: "Up",
};

/** The pedal map, screen by screen, as it is shown to the maker. */
export const pedal_map: ReadonlyArray<{ screen: string; main: string; ring: string }> = [
  { screen: "Bench", main: "Good", ring: "Second, Lost, Take back, Pause, nothing" },
  {
    screen: "Counting turns",
    main: "Turned",
    ring: "Good, Second, Lost, Take back (one turn), Pause, nothing",
  },
  { screen: "Lost", main: "Not sure", ring: "the eight drawings, More, Take back" },
  {
    screen: "Paused; wind down",
    main: "Go on; the first line not ticked",
    ring: "wind down, Take back, nothing",
  },
  { screen: "Set-up", main: "good, next row", ring: "needs work (opens it), not looked at, nothing" },
  { screen: "A soak rings", main: "silence", ring: "take out, five minutes more, nothing" },
  { screen: "Put right, questions, Chest", main: "nothing: by hand", ring: "" },
];
