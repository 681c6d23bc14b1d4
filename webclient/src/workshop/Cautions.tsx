/** The cautions that stand in several rooms. */
import { Caution } from "./Caution";
import * as words from "./caution_words";

export const OilCaution = () => <Caution order={words.oil_order} text={words.oil_text} />;
export const EdgeCaution = () => <Caution order={words.edge_order} text={words.edge_text} />;
export const ManualFirst = () => <p class="quiet">{words.manual}</p>;
