/** What a person reads around every drawing of records. */
export const asTable = "The same in figures";
export const goesOn = "It goes on to the right: slide it.";
export const howComputed = "How this was worked out";
export const nothing = "Nothing to show yet";
export const nothingSub = "Once there are records that it can rest on, they are drawn here.";
export const back = "Back";
