/** Which drawers does the Chest have, what does each say, and which stands open? Filled by bench_day. */
import { signal } from "@preact/signals";

export interface Drawer {
  room: string;
  label: string;
  line: string;
  /** stands open: the room wants the maker */
  open: boolean;
}

export const chest = signal<Drawer[]>([]);
export const chestShown = signal(false);
