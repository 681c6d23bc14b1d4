// Which examples is a property tried on? The same in every run; FC_SEED=<any number> tries others.

import fc from "fast-check";

fc.configureGlobal({ seed: Number(process.env["FC_SEED"] ?? 20261126) });
