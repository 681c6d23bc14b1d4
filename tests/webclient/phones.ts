/** Phones for the tests: a real store (fake-indexeddb under it), a real exchange, and a server that can fail. */

import "fake-indexeddb/auto";
import { Exchange } from "src/exchange/run";
import type { Request } from "src/exchange/wire";
import type { Value } from "src/logbook/model";
import type { SecondCopy } from "src/logbook/second_copy";
import { Logbook } from "src/logbook/state";
import { Store } from "src/logbook/store";
import { FakeServer } from "./fake_server";

let count = 0;

export function freshName(): string {
  count += 1;
  return `store-${count}`;
}

export type Network = (request: Request, server: FakeServer) => Response | Promise<Response>;

export const json = (body: unknown, status = 200, type = "application/json"): Response =>
  new Response(JSON.stringify(body), { status, headers: { "content-type": type } });

export const honest: Network = (request, server) => json(server.answer(request));

/** A server behind a network that the test can break; `asked` holds every request that was sent. */
export class Wire {
  network: Network = honest;
  readonly asked: Request[] = [];

  constructor(readonly server = new FakeServer()) {}

  readonly fetch = async (url: string | URL | globalThis.Request, init?: RequestInit): Promise<Response> => {
    if (String(url) !== "/api/exchange") return new Response("", { status: 404 });
    const request = JSON.parse(String(init?.body)) as Request;
    this.asked.push(request);
    return this.network(request, this.server);
  };
}

export interface Phone {
  logbook: Logbook;
  exchange: Exchange;
  store: Store;
}

export async function phone(wire: Wire, name = freshName(), second?: SecondCopy): Promise<Phone> {
  const store = new Store(name);
  const logbook = new Logbook(store, second);
  await logbook.open();
  const exchange = new Exchange(logbook, { fetch: wire.fetch, chance: () => 0 }, name);
  return { logbook, exchange, store };
}

export function say(phone: { logbook: Logbook }, set: Record<string, Value>, record = "r", kind = "soak"): Promise<void> {
  return phone.logbook.write([{ kind, record, set }]).saved;
}

export function shownOf(phone: { logbook: Logbook }, record = "r", kind = "soak"): Record<string, Value> {
  const fields = phone.logbook.row(kind, record)?.fields ?? {};
  return Object.fromEntries(Object.entries(fields).map(([name, { value }]) => [name, value]));
}
