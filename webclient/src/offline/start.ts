/** What is begun once the first screen stands. */

import { exchange } from "../exchange/state";
import { logbook } from "../logbook/state";
import { watchClock } from "./clock_watch";
import { keepStorage } from "./keep_storage";
import { register } from "./register";

export function startBeside(): void {
  exchange.start();
  watchClock();
  void keepStorage();
  void logbook.keepTwice();
  if (import.meta.env.PROD) void register();
}
