/** The words on the furniture itself; rooms bring all others. */
export const edge = "bench edge";
export const chest = "Chest";
export const theChest = "The Chest";
export const chestLine = "one that stands open wants you";
export const rooms = "rooms";
export const shut = "Shut";
export const wantsYou = "stands open";
export const less = (label: string): string => `${label}: one less`;
export const more = (label: string): string => `${label}: one more`;
export const open = (label: string): string => `look at ${label}`;
export const saved = (unsent: string): string => `saved on this phone, ${unsent} to send`;
export const savedAll = "saved on this phone and in the workshop";
export const saving = "being saved";
export const notSaved = "Not saved: this phone has no room. Keep the page open.";
export const aQuestion = "A question";
