/** A phone that asks for messages by push says in time what became of it. */
import { expect, test } from "vitest";
import { nameOf, ownSubscription, type PushMeans, subscribe, unsubscribe } from "../../webclient/src/alarms/push";

const KEY = "BP4z9KsN6nGRTbVYI_c7VJSPQTBtkgcy27mlmlMoZIIgDll6e3vCYLocInmYWAmS6TlzAC8wEqKK6PBru3jl7A8";
const ENDPOINT = "https://push.example.net/a";

interface Asked {
  path: string;
  body: unknown;
}

function bytesOf(key: string): ArrayBuffer {
  const letters = atob(key.replaceAll("-", "+").replaceAll("_", "/"));
  return Uint8Array.from(letters, (letter) => letter.charCodeAt(0)).buffer;
}

function phone(how: {
  permission?: NotificationPermission;
  on?: boolean;
  status?: number;
  had?: string;
  never?: boolean;
  cut?: boolean;
}) {
  const asked: Asked[] = [];
  const done: string[] = [];
  const subscription = (key: string) =>
    ({
      endpoint: ENDPOINT,
      options: { applicationServerKey: bytesOf(key) },
      unsubscribe: async () => done.push("unsubscribed") > 0,
      toJSON: () => ({ endpoint: ENDPOINT, keys: { p256dh: "p", auth: "a" } }),
    }) as unknown as PushSubscription;
  const manager = {
    getSubscription: async () => (how.had === undefined ? null : subscription(how.had)),
    subscribe: ({ applicationServerKey }: { applicationServerKey: string }) => {
      done.push(`subscribed ${applicationServerKey}`);
      return how.never ? new Promise(() => undefined) : Promise.resolve(subscription(applicationServerKey));
    },
  } as unknown as PushManager;
  const means: PushMeans = {
    fetch: (async (path: string, init?: RequestInit) => {
      if (how.cut) throw new TypeError("Failed to fetch");
      asked.push({ path, body: init?.body === undefined ? null : JSON.parse(String(init.body)) });
      if (init?.method === "DELETE") return new Response(null, { status: 204 });
      if (path === "/api/push") return Response.json({ on: how.on ?? true, public_key: how.on === false ? null : KEY });
      return Response.json({}, { status: how.status ?? 201 });
    }) as typeof fetch,
    permission: async () => how.permission ?? "granted",
    manager: async () => manager,
    installed: true,
    wait_ms: 30,
  };
  return { means, asked, done };
}

test("it subscribes with the workshop's key and tells the workshop which device it is", async () => {
  const { means, asked, done } = phone({});
  expect(await subscribe("d", means)).toBe("on");
  expect(done).toEqual([`subscribed ${KEY}`]);
  expect(asked.at(-1)).toEqual({
    path: "/api/push/subscriptions",
    body: { endpoint: ENDPOINT, keys: { p256dh: "p", auth: "a" }, device: "d" },
  });
});

test("a subscription for another key is given back first, one for this key is kept", async () => {
  const other = phone({ had: `${KEY.slice(0, -2)}AA` });
  await subscribe("d", other.means);
  expect(other.done).toEqual(["unsubscribed", `subscribed ${KEY}`]);
  const same = phone({ had: KEY });
  await subscribe("d", same.means);
  expect(same.done).toEqual([`subscribed ${KEY}`]);
});

test("a maker who refuses is asked nothing more and the workshop hears nothing", async () => {
  const { means, asked } = phone({ permission: "denied" });
  expect(await subscribe("d", means)).toBe("refused");
  expect(asked).toEqual([]);
});

test("with no internet it says so in time, though the browser never answers", async () => {
  const { means, asked } = phone({ never: true });
  expect(await subscribe("d", means)).toBe("unreached");
  expect(asked.map(({ path }) => path)).toEqual(["/api/push"]);
});

test("each other end has its own name", async () => {
  expect(await subscribe("d", phone({ on: false }).means)).toBe("elsewhere");
  expect(await subscribe("d", phone({ status: 422 }).means)).toBe("no_service");
  expect(await subscribe("d", phone({ status: 503 }).means)).toBe("unreached");
  expect(await subscribe("d", phone({ cut: true }).means)).toBe("unreached");
  const bare = { ...phone({}).means, manager: null };
  expect(await subscribe("d", bare)).toBe("missing");
  expect(await subscribe("d", { ...bare, installed: false })).toBe("not_installed");
});

test("a subscription is known by the name that the workshop gives it", async () => {
  // Python: hashlib.sha256(b"https://push.example.net/a").hexdigest()[:32]
  expect(nameOf(ENDPOINT)).toBe("f3bf260fa7157018f050f85a0646fbac");
  expect(await ownSubscription(phone({ had: KEY }).means)).toBe(nameOf(ENDPOINT));
  expect(await ownSubscription(phone({}).means)).toBeNull();
  expect(await ownSubscription({ ...phone({}).means, manager: null })).toBeNull();
});

test("it is given back here and at the workshop, and here also where the workshop is not reached", async () => {
  const { means, asked, done } = phone({ had: KEY });
  expect(await unsubscribe(means)).toBe(true);
  expect(done).toEqual(["unsubscribed"]);
  expect(asked.at(-1)?.path).toBe(`/api/push/subscriptions/${nameOf(ENDPOINT)}`);
  const alone = phone({ had: KEY, cut: true });
  expect(await unsubscribe(alone.means)).toBe(true);
  expect(alone.done).toEqual(["unsubscribed"]);
});
