/** What a person reads about being offline, the phone's store and its clock. */

export const roomMissing =
  "This screen could not be opened. Close Easelside and open it again; what you wrote is kept.";
export const roomBroke = "Something is wrong with this screen. What you wrote is kept.";
export const toToday = "Back to Today";
