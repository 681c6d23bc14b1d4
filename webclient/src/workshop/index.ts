/** The furniture of every screen. */
export { BagLabel } from "./BagLabel";
export { Caution } from "./Caution";
export { Choice } from "./Choice";
export { Check, Select, TextField } from "./fields";
export { KeptField } from "./KeptField";
export { type Extra, type Next, Page } from "./Page";
export { Question, QuestionSides, type Side } from "./Question";
export { Saved } from "./Saved";
export { Scribed } from "./Scribed";
export { Slip, SlipRow } from "./Slip";
export { StepButton, Stepper } from "./Stepper";
export { Table } from "./Table";
