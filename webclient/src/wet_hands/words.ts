/** What the frame says that the pedal moves. */

export const nothing = "nothing";
export const ring = "Frame";
