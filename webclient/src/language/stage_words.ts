/** What was done to a piece at each stage, as it is said in every room. */
export const stageDone = {
  gouged: "gouged",
  profiled: "profiled",
  shaped: "shaped",
  formed: "formed",
  finished: "finished",
};
