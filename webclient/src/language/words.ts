/** The language of all words here: how it counts, and how it lists. A number, a day, a moment go by the locale. */
export const language = "en-GB";
/** The units of time as they are said; numbers come ready for the locale. */
export const minutes = (n: string): string => `${n} min`;
export const hours = (n: string): string => `${n} h`;
/** Small counts, as they are said. */
export const small = [
  "no",
  "one",
  "two",
  "three",
  "four",
  "five",
  "six",
  "seven",
  "eight",
  "nine",
  "ten",
  "eleven",
  "twelve",
];
export const piece = { one: "piece", other: "pieces" };
export const mm = "mm";
export const inch = "in";
