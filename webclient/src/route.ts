/** Which room is on the screen? It stands after the # of the address: "#/bench/<session>?piece=12". */

import { computed, type ReadonlySignal, signal } from "@preact/signals";

export interface Route {
  room: string;
  rest: string[];
  query: Record<string, string>;
}

export function readRoute(hash: string): Route {
  const [path = "", query = ""] = hash.replace(/^#\/?/, "").split("?", 2);
  const [room = "", ...rest] = path.split("/").map(decoded);
  return {
    room: room || "today",
    rest: rest.filter((part) => part !== ""),
    query: Object.fromEntries(new URLSearchParams(query)),
  };
}

function decoded(part: string): string {
  try {
    return decodeURIComponent(part);
  } catch {
    return part; // a lone % in a typed address
  }
}

/** The last argument may be an object: it becomes the query. */
export function href(room: string, ...rest: (string | number | Record<string, string>)[]): string {
  const last = rest.at(-1);
  const query = typeof last === "object" ? new URLSearchParams(last).toString() : "";
  const path = [room, ...rest.filter((part) => typeof part !== "object")]
    .map((part) => encodeURIComponent(String(part)))
    .join("/");
  return `#/${path}${query ? `?${query}` : ""}`;
}

/** The code that a camera read is taken out of the address at once: it must not stay in the history or on the screen. */
let brought: string | null = null;

function withoutCode(): string {
  if (typeof location === "undefined") return "";
  const code = /^#\/p\/([A-Z2-7]{16})$/i.exec(location.hash)?.[1];
  if (code !== undefined) {
    brought = code;
    history.replaceState(null, "", "#/phones");
  }
  return location.hash;
}

/** The code of the square, once. */
export function takeBroughtCode(): string | null {
  const code = brought;
  brought = null;
  return code;
}

const hash = signal(withoutCode());

export const route: ReadonlySignal<Route> = computed(() => readRoute(hash.value));

export function go(room: string, ...rest: (string | number | Record<string, string>)[]): void {
  location.hash = href(room, ...rest);
  hash.value = location.hash;
}

if (typeof window !== "undefined") {
  window.addEventListener("hashchange", () => {
    hash.value = withoutCode();
  });
}
