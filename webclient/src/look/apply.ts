/** Day or night, right hand or left: what this device's maker chose, put where the style sheets see it. */
export type Look = "phone" | "day" | "night";
export type Hand = "right" | "left";

export function wearLook(look: Look, hand: Hand): void {
  const root = document.documentElement;
  if (look === "phone") delete root.dataset["look"];
  else root.dataset["look"] = look;
  root.dataset["hand"] = hand;
}
