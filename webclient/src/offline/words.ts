/** What a person reads about being offline, the phone's store and its clock. */

export const words = {
  roomMissing: "This screen could not be opened. Close Easelside and open it again; what you wrote is kept.",
  roomBroke: "Something is wrong with this screen. What you wrote is kept.",
  toToday: "Back to Today",
};
