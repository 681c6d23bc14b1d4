/** What stands in Take back, and in its history. */
export const put_in = "put in";
export const out = "taken out";
export const mark = "the mark";
export const dry = "drying back";
export const dry_enough = "dry enough";
export const add = "pieces added";
export const put_right = "start put right";
export const row = "the row ended";
export const planned = "planned time";
export const note = "note";
export const never = "never went in";
export const named = "the name";
export const habit = "habit";
