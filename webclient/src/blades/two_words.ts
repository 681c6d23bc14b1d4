/** The words of a question that two phones left open: which blade is in the machine? */
export const two_sub = (machine: string): string => `${machine}, two phones`;
export const two_at = (at: string): string => `fitted ${at}`;
export const two_meanwhile = (label: string): string =>
  `Till you say, blade ${label} counts: the later one stands. Both moves stay in Records.`;
export const two_later = "Ask me later";
export const two_later_sub = "it stays in Today";
