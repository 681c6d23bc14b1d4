/** What does the workshop say of this device, of the others that are paired, and of who is at which machine? */

export type Role = "maker" | "hand";

/** `why`: what stands in the way, where it does not come in. */
export interface Who {
  comes_in: boolean;
  at_machine: boolean;
  why: "not_paired" | "withdrawn" | null;
  role: Role | null;
  name: string | null;
}

/** Instants are RFC 3339 in UTC. */
export interface PairedDevice {
  id: string;
  name: string;
  role: Role;
  seen: string;
  withdrawn: string | null;
  is_this: boolean;
}

export interface Phones {
  devices: PairedDevice[];
  /** where a phone finds the workshop; null while phones cannot reach it */
  address: string | null;
  /** how many more wrong figures the code bears that stands; 0: only its square opens; null: no code stands */
  figures_left: number | null;
}

/** `begins`: where a phone that was never here begins, the first one first; `square`: an SVG. */
export interface WayIn {
  on: boolean;
  fingerprint: string | null;
  begins: { address: string; square: string }[];
}

/** Shown once, on the screen that asked for it. `square`: an SVG. */
export interface Code {
  role: Role;
  ends: string;
  figures: string;
  square: string | null;
}

/** A device's last change at a machine. */
export interface AtMachine {
  machine: string;
  device: string;
  at: string;
}

type Thing = { [name: string]: unknown };

const isThing = (value: unknown): value is Thing =>
  typeof value === "object" && value !== null && !Array.isArray(value);
const text = (value: unknown): string | null => (typeof value === "string" ? value : null);
const roleOf = (value: unknown): Role | null => (value === "maker" || value === "hand" ? value : null);

export function readWho(body: unknown): Who | null {
  if (!isThing(body) || typeof body["comes_in"] !== "boolean") return null;
  const why = body["why"];
  return {
    comes_in: body["comes_in"],
    at_machine: body["at_machine"] === true,
    why: why === "not_paired" || why === "withdrawn" ? why : null,
    role: roleOf(body["role"]),
    name: text(body["name"]),
  };
}

function readDevice(value: unknown): PairedDevice[] {
  if (!isThing(value)) return [];
  const [id, name, seen, role] = [
    text(value["id"]),
    text(value["name"]),
    text(value["seen"]),
    roleOf(value["role"]),
  ];
  if (id === null || name === null || seen === null || role === null) return [];
  return [{ id, name, role, seen, withdrawn: text(value["withdrawn"]), is_this: value["is_this"] === true }];
}

export function readPhones(body: unknown): Phones | null {
  if (!isThing(body) || !Array.isArray(body["devices"])) return null;
  const code = body["invitation"];
  const left = isThing(code) && typeof code["figures_left"] === "number" ? code["figures_left"] : null;
  return { devices: body["devices"].flatMap(readDevice), address: text(body["address"]), figures_left: left };
}

export function readWayIn(body: unknown): WayIn | null {
  if (!isThing(body) || typeof body["on"] !== "boolean" || !Array.isArray(body["begins"])) return null;
  const begins = body["begins"].flatMap((one: unknown) => {
    const [address, square] = isThing(one) ? [text(one["address"]), text(one["square"])] : [null, null];
    return address === null || square === null ? [] : [{ address, square }];
  });
  return { on: body["on"], fingerprint: text(body["fingerprint"]), begins };
}

export function readCode(body: unknown): Code | null {
  if (!isThing(body)) return null;
  const [role, ends, figures] = [roleOf(body["role"]), text(body["ends"]), text(body["figures"])];
  if (role === null || ends === null || figures === null) return null;
  return { role, ends, figures, square: text(body["square"]) };
}

export function readAtMachines(body: unknown): AtMachine[] | null {
  if (!isThing(body) || !Array.isArray(body["at"])) return null;
  return body["at"].flatMap((one: unknown): AtMachine[] => {
    if (!isThing(one)) return [];
    const [machine, device, at] = [text(one["machine"]), text(one["device"]), text(one["at"])];
    return machine === null || device === null || at === null ? [] : [{ machine, device, at }];
  });
}
