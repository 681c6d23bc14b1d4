/** The units of time as they are said; numbers come ready for the locale. */
export const words = {
  minutes: (n: string): string => `${n} min`,
  hours: (n: string): string => `${n} h`,
} as const;
