// Serves Easelside with no network. FILES and VERSION are written in by the build: one version is one cache,
// all of its files or none. A new version waits until it is let in by a message.
const CACHE = `app-${VERSION}`;

const fetched = async (url) => {
  const response = await fetch(url, { cache: "reload" });
  // a captive portal redirects or answers with its own page: then there is no new version
  if (!response.ok || response.redirected) throw new Error(`${url}: ${response.status}`);
  return response;
};

// What every start asks for, a browser that can takes out of the cache by itself, before this worker is awake.
const STRAIGHT = ["/", "/begin.js", "/assets/*"];

self.addEventListener("install", (event) => {
  const straight = (pathname) => ({
    condition: { urlPattern: new URLPattern({ pathname, search: "", baseURL: self.location.origin }) },
    source: { cacheName: CACHE },
  });
  // where it cannot, they come by way of "fetch"
  if (event.addRoutes) event.addRoutes(STRAIGHT.map(straight)).catch(() => undefined);
  const all = async () => {
    const got = await Promise.all(FILES.map(fetched)); // nothing is begun before all of them are there
    const cache = await caches.open(CACHE);
    try {
      await Promise.all(FILES.map((url, place) => cache.put(url, got[place])));
    } catch (problem) {
      await caches.delete(CACHE);
      throw problem;
    }
  };
  event.waitUntil(all());
});

self.addEventListener("activate", (event) => {
  const old = async () => {
    for (const name of await caches.keys()) {
      if (name.startsWith("app-") && name !== CACHE) await caches.delete(name);
    }
    await self.clients.claim();
  };
  event.waitUntil(old());
});

self.addEventListener("message", (event) => {
  if (event.data === "come in") self.skipWaiting();
});

// Every push shows something: a browser takes the permission back from who stays silent.
self.addEventListener("push", (event) => {
  let said = {};
  try {
    said = event.data.json().notification ?? {};
  } catch {
    // not ours, or empty: the name alone
  }
  const { title = "Easelside", body, tag, lang, dir } = said;
  event.waitUntil(self.registration.showNotification(title, { body, tag, lang, dir }));
});

self.addEventListener("notificationclick", (event) => {
  event.notification.close();
  const open = async () => {
    for (const page of await self.clients.matchAll({ type: "window", includeUncontrolled: true })) {
      if ("focus" in page) return page.focus();
    }
    return self.clients.openWindow("/");
  };
  event.waitUntil(open());
});

self.addEventListener("fetch", (event) => {
  const { method, url, mode, destination } = event.request;
  const { origin, pathname } = new URL(url);
  if (method !== "GET" || origin !== self.location.origin) return;
  if (/^\/(api|docs|trust|probe|ca\.crt)(\/|$)/.test(pathname) || destination === "audio") return;
  const wanted = mode === "navigate" ? "/" : pathname;
  // what this version does not hold is the network's to answer, with its own 404
  const answer = async () => (await (await caches.open(CACHE)).match(wanted)) ?? fetch(event.request);
  event.respondWith(answer());
});
