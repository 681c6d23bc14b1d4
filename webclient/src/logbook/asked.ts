/** How does this phone's keeping and exchange stand, and what is there to ask the maker? */
import type { Value } from "./model";

export interface Status {
  unsent: number;
  keeping: "saved" | "saving" | "not_saved";
  exchange: "never" | "ok" | "waiting";
  lastExchange: string | null;
  /** phone's clock less the server's; null while unknown */
  clockOff_ms: number | null;
  /** which logbook's slips, as of which revision, the last answer named */
  slips: string | null;
}

/** Something that the maker should be asked or told; `kind` says which room words it. */
export interface Asked {
  id: string;
  kind:
    | "refused"
    | "clock"
    | "clock_jump"
    | "restored"
    | "update"
    | "evicted"
    | "brought_back"
    | "lost"
    | "take_back"
    | "blocked";
  facts: { [name: string]: Value };
  /** what can be done about it; absent where it can only be put away */
  act?: () => void;
}
