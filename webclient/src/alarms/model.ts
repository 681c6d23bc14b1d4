/** What does the workshop say of messages by push, of its calendar, and of the bell at the bench? Instants are RFC 3339 in UTC. */

/** `went_well`: when the push service last took a message; `went_wrong`: why it last did not. */
export interface PushedDevice {
  id: string;
  device: string;
  service: string;
  went_well: string | null;
  went_wrong: string | null;
}

export interface Push {
  on: boolean;
  devices: PushedDevice[];
}

/** `there`: it was given a command to ring with; `works`: how the last ring went, null: it has not rung yet. */
export interface BenchBell {
  there: boolean;
  works: boolean | null;
}

export interface CalendarStands {
  on: boolean;
  since: string | null;
}

/** Told once. `address` and `square` (an SVG): as other devices find it; null where none can. */
export interface CalendarMade {
  path: string;
  address: string | null;
  square: string | null;
}

type Thing = { [name: string]: unknown };

const isThing = (value: unknown): value is Thing =>
  typeof value === "object" && value !== null && !Array.isArray(value);
const text = (value: unknown): string | null => (typeof value === "string" ? value : null);

function readDevice(value: unknown): PushedDevice[] {
  if (!isThing(value)) return [];
  const [id, device, service] = [text(value["id"]), text(value["device"]), text(value["service"])];
  if (id === null || device === null || service === null) return [];
  return [
    { id, device, service, went_well: text(value["went_well"]), went_wrong: text(value["went_wrong"]) },
  ];
}

export function readPush(body: unknown): Push | null {
  if (!isThing(body) || typeof body["on"] !== "boolean" || !Array.isArray(body["devices"])) return null;
  return { on: body["on"], devices: body["devices"].flatMap(readDevice) };
}

export function readBell(body: unknown): BenchBell | null {
  if (!isThing(body) || typeof body["there"] !== "boolean") return null;
  const works = body["works"];
  return { there: body["there"], works: typeof works === "boolean" ? works : null };
}

export function readCalendar(body: unknown): CalendarStands | null {
  if (!isThing(body) || typeof body["on"] !== "boolean") return null;
  return { on: body["on"], since: text(body["since"]) };
}

export function readMade(body: unknown): CalendarMade | null {
  const path = isThing(body) ? text(body["path"]) : null;
  if (!isThing(body) || path === null) return null;
  return { path, address: text(body["address"]), square: text(body["square"]) };
}
