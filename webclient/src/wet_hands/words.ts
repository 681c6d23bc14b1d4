/** The words about pedals, sound and the lit screen. */

export const words = {
  pedals: "Pedal",
  pedals_sub: "a page-turner or a foot switch",
  one_key: "one key",
  one_key_sub: "two quick presses open the ring; a rest of 3 s takes what is ringed",
  two_keys: "two keys",
  two_keys_sub: "left opens the ring and steps; right takes",
  starting: "Known from the start",
  right_key: "right, or the only key",
  left_key: "left",
  learned: "Learned on this phone",
  learn_take: "Learn the right key",
  learn_step: "Learn the left key",
  learning: "Press the pedal now.",
  forget: "Forget learned keys",
  nothing: "nothing",
  ring: "Ring",
  what_it_does: "What it does",
  main: "one key, or right",
  in_ring: "ring",
  try_bell: "Ring once now",
  try_bell_sub: "as it rings when a soak is ready",
  try_said: "This is how it sounds.",
  no_sound: "This phone cannot make a sound here.",
  voice_missing: "the bell alone: this phone has no English voice of its own",
} as const;

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
