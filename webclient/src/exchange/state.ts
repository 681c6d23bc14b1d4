/** The one exchange of this page. */

import { logbook } from "../logbook/state";
import { Exchange } from "./run";

export const exchange = new Exchange(logbook);
export const letIn = exchange.letIn;
