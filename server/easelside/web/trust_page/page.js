// Which step is this phone at on its way in? Each one is looked at, none is believed.
import { words } from "./words.js";

const AGAIN_MS = 3000;
const PATIENCE_MS = 4000;
const secure = location.protocol === "https:";
const at = (id) => document.getElementById(id);
const state = { facts: null, reached: null, found: {}, registered: null, offline: false, paired: false };

function platformHere() {
  const agent = navigator.userAgent;
  if (/iPhone|iPad|iPod/.test(agent) || (/Macintosh/.test(agent) && navigator.maxTouchPoints > 1)) return "ios";
  if (/Android/.test(agent)) return "android";
  if (/Windows/.test(agent)) return "windows";
  return /Macintosh/.test(agent) ? "macos" : "linux";
}
let platform = platformHere();

async function asked(url) {
  const answer = await fetch(url, { cache: "no-store", credentials: "same-origin", signal: AbortSignal.timeout(PATIENCE_MS) });
  if (!answer.ok) throw new Error(`${answer.status}`);
  return answer.json();
}

/** "answers" only if TLS stood without a word from anybody and it is this workshop. */
async function probed(place) {
  try {
    return (await asked(`${place}/probe`)).workshop === state.facts.fingerprint ? "answers" : "other";
  } catch {
    return "silent";
  }
}

async function lookAtPlaces() {
  await Promise.all(
    state.facts.places.map(async (place) => {
      state.found[place] = await probed(place);
    }),
  );
}

/** The worker is refused where the certificate's warning was only clicked away. */
async function lookBehindTheDoor() {
  try {
    state.registered ??= await navigator.serviceWorker.register("/sw.js", { updateViaCache: "none" });
    state.offline = state.registered.active !== null && (await caches.keys()).length > 0;
  } catch {
    state.registered = null;
    state.offline = false;
  }
  try {
    state.paired = (await asked("/api/who")).comes_in === true;
  } catch {
    state.paired = false;
  }
}

async function look() {
  try {
    state.facts ??= await asked("/trust/facts.json");
    state.reached = (await asked("/probe")).workshop === state.facts.fingerprint;
  } catch {
    state.reached = false;
  }
  if (state.facts && state.reached) await lookAtPlaces();
  if (secure && state.reached) await lookBehindTheDoor();
  show();
}

const usable = () => state.facts?.places.find((place) => state.found[place] === "answers");

/** What stands at each of the four: true where it was seen. */
function stations() {
  const trusted = secure ? state.registered !== null && usable() !== undefined : usable() !== undefined;
  return [state.reached === true, trusted, secure && trusted && state.offline, secure && trusted && state.paired];
}

function verdict([reached, trusted, offline, paired]) {
  if (!reached) return { head: "lost", next: words.again, href: location.href };
  if (!trusted && secure) return { head: "clicked", next: words.plain, href: plainPage() };
  if (!trusted) return { head: "stranger", next: words.fetch, href: "/ca.crt" };
  if (!secure) return { head: "trusted", next: words.goOn, href: `${usable()}/trust` };
  if (!offline) return { head: "offline", next: words.wait, href: "/" };
  if (!paired) return { head: "unpaired", next: words.pair, href: "/" };
  return { head: "ready", next: words.open, href: "/" };
}

function plainPage() {
  return `http://${location.hostname}:${state.facts?.trust_port ?? ""}/trust`;
}

function made(name, text, className) {
  const element = document.createElement(name);
  if (text) element.textContent = text;
  if (className) element.className = className;
  return element;
}

function put(element, ...children) {
  element.replaceChildren(...children);
}

function showStations(seen) {
  const now = seen.indexOf(false);
  put(
    at("stations"),
    ...words.stations.map((name, index) => {
      const one = made("li", "", seen[index] ? "seen" : index === now ? "now" : "");
      one.dataset.station = name;
      one.dataset.seen = String(seen[index]);
      one.append(made("b", seen[index] ? "✓" : String(index + 1)), made("span", name));
      return one;
    }),
  );
  at("step").textContent = now < 0 ? words.done : words.step(now + 1, words.stations[now]);
}

function showSteps() {
  put(
    at("steps"),
    ...words.steps[platform].map(([order, how, command]) => {
      const one = made("li");
      one.append(made("strong", order), made("span", how));
      if (command) one.append(made("code", command));
      return one;
    }),
  );
  at("removing").textContent = words.removing[platform];
}

function showPlaces() {
  put(
    at("addresses").querySelector("ul"),
    ...(state.facts?.places ?? []).map((place) => {
      const found = state.found[place] ?? "asking";
      const one = made("li", "", found);
      one.dataset.place = place;
      one.append(made("strong", place.replace("https://", "")), made("span", words[found]));
      return one;
    }),
  );
}

function show() {
  const seen = stations();
  const { head, next, href } = verdict(seen);
  document.body.dataset.head = head;
  at("head").textContent = words.heads[head];
  at("help").textContent = words.help[head] ?? "";
  showStations(seen);
  showPlaces();
  at("short").textContent = state.facts?.short ?? "";
  at("whole").textContent = state.facts?.whole ?? "";
  at("called").textContent = state.facts ? `${words.called} “${state.facts.authority}”.` : "";
  const link = at("next");
  link.href = href;
  link.toggleAttribute("download", href === "/ca.crt" && platform !== "ios");
  link.querySelector("strong").textContent = next[0];
  link.querySelector("span").textContent = next[1];
}

function write() {
  document.querySelector("h1").textContent = words.title;
  at("platforms").querySelector("legend").textContent = words.whichPhone;
  for (const [key, name] of Object.entries(words.platforms)) {
    const label = made("label", "", "choice");
    const choice = made("input");
    Object.assign(choice, { type: "radio", name: "platform", value: key, checked: key === platform });
    choice.addEventListener("change", () => {
      platform = key;
      showSteps();
      show();
    });
    label.append(choice, made("span", name));
    at("platforms").append(label);
  }
  at("same").querySelector("h3").textContent = words.same;
  at("same-why").textContent = words.sameWhy;
  at("same").querySelector("summary").textContent = words.wholeOne;
  at("addresses").querySelector("h3").textContent = words.addresses;
  at("addresses").querySelector("p").textContent = words.nameFirst;
  at("away").querySelector("summary").textContent = words.away;
  at("reach").textContent = words.reach;
  showSteps();
}

async function keepLooking() {
  await look();
  setTimeout(keepLooking, AGAIN_MS);
}

write();
keepLooking();
