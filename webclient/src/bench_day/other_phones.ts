/** What rooms say of locked and of other phones, and of the keys that a phone learns. Its script is one of its own, loaded once the first screen stands. */
import { signal } from "@preact/signals";
import type { FunctionComponent } from "preact";
import type { Soak } from "../soak/model";

export interface OfPhones {
  NotLetIn: FunctionComponent;
  AtMachines: FunctionComponent;
  WhatRings: FunctionComponent<{ soak: Soak | null }>;
  PhoneRings: FunctionComponent;
  PedalKeys: FunctionComponent;
}

export const ofPhones = signal<OfPhones | null>(null);
