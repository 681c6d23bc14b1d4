/** The cautions that stand in several rooms: on oil, on an edge, and who comes before this program. */
export const oil_order = "Keep oil off cane and bed.";
export const oil_text =
  "A reed goes into a mouth: a lubricant for incidental food contact (21 CFR 178.3570) is the safe choice. Sprays and solvents: air, no flame.";
export const edge_order = "Move fingers away from the edge.";
export const edge_text =
  "Never test it on skin. Carry the blade housed; a dull one goes into a rigid box, shut.";
export const manual = "The machine's own manual, local rules and a qualified person come first.";
