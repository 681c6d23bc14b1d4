import written from "../shared_cases/screw.json";

/** The cases that the server runs too; those without a move have neither height nor degrees. */
export const shared = written.cases.map((one) => ({
  ...one,
  lowers: one.lowers === "clockwise" ? ("clockwise" as const) : ("anticlockwise" as const),
  move: one.move,
  clockwise_degrees: one.clockwise_degrees ?? 0,
}));
