/// <reference types="vitest/config" />
import { readdirSync } from "node:fs";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import preact from "@preact/preset-vite";
import { defineConfig, type Plugin } from "vite";
import { serviceWorker } from "./service_worker.ts";

const here = (path: string) => fileURLToPath(new URL(path, import.meta.url));

/** The tests stand outside this folder, where node finds no node_modules: bare names are looked for from here. */
function testsUseOurPackages(): Plugin {
  return {
    name: "tests-use-our-packages",
    enforce: "pre",
    async resolveId(source, importer, options) {
      const isBare = /^(@[a-z]|[a-z])/i.test(source) && !source.startsWith("src/");
      if (!isBare || !importer?.includes("/tests/")) return null;
      return this.resolve(source, here("./src/main.tsx"), { ...options, skipSelf: true });
    },
  };
}

/** `import()` as the browser has it: Vite's own wrapper loads styles first, and there is one style sheet only. */
function plainImport(): Plugin {
  return {
    name: "plain-import",
    enforce: "pre",
    load(id) {
      return id.endsWith("vite/preload-helper.js") ? "export const __vitePreload = (load) => load();" : null;
    },
  };
}

/** Elements by Preact's `h()`, under a name that nobody uses: the automatic runtime's `children: [...]` at every element is some 1 kB more after gzip. */
function shortElements(): Plugin {
  const jsx = { runtime: "classic", pragma: "elementOf", pragmaFrag: "Fragment" } as const;
  return {
    name: "short-elements",
    config: () => ({ oxc: { jsx, jsxInject: 'import { Fragment, h as elementOf } from "preact";' } }),
  };
}

/** The first screen calls nearly all of its script: V8 then makes it ready beside the page rather than call by call (explicit compile hints, Chromium 136). */
function calledAtOnce(): Plugin {
  return {
    name: "called-at-once",
    apply: "build",
    generateBundle(_options, bundle) {
      for (const chunk of Object.values(bundle)) {
        if (chunk.type === "chunk" && chunk.name === "first")
          chunk.code = `//# allFunctionsCalledOnLoad\n${chunk.code}`;
      }
    },
  };
}

/** What one script hands on to another is called there as it is inside: both names for each, one as short as the other, are 0.9 kB more. */
function handedOnByOwnName(): Plugin {
  return {
    name: "handed-on-by-own-name",
    apply: "build",
    generateBundle(_options, bundle) {
      const chunks = Object.values(bundle).filter((chunk) => chunk.type === "chunk");
      const split = (all: string): [string, string][] =>
        all.split(",").map((pair) => {
          const [name = "", as = name] = pair.split(" as ");
          return [name, as];
        });
      const late = /(import\(`\.(\/[^`]+)`\)\.then\((\w+)=>\3\.)([\w$]+)/g;
      for (const hands of chunks) {
        const [list, pairs] = /export\{([^}]*)\};?\s*$/.exec(hands.code) ?? [];
        if (!["first", "rooms"].includes(hands.name) || !list || !pairs) continue; // not in a page of the tests
        const own = new Map(split(pairs).map(([name, as]) => [as, name]));
        hands.code = hands.code.replace(list, () => `export{${[...new Set(own.values())].sort().join()}};`);
        const from = hands.fileName.slice(hands.fileName.lastIndexOf("/"));
        for (const chunk of chunks)
          chunk.code = chunk.code
            .replace(/import\{([^}]*)\}(?=from"\.(\/[^"]+)")/g, (whole, all, path) => {
              if (path !== from) return whole;
              const names = split(all).map(([name, as]) => `${own.get(name)} as ${as}`);
              return `import{${names.sort().join()}}`;
            })
            .replace(late, (whole, before, path, _, name) =>
              path === from ? before + own.get(name) : whole,
            );
      }
    },
  };
}

/** What only several phones need, and the keys that a phone learns. */
const ofPhones =
  /src\/pairing\/|alarms\/(bell_track|track_rules|phone_words|phone_state|push|model|calls_words)\.|LeaningPhone|wet_hands\/(PedalKeys|pedal_words)\.|(profiling|blades)\/(TwoOutcomes|two_\w+)\.|bench_day\/(let_in|question_page|calls\w*|at_machines|phones_page|phone_check_page|locked_bell|what_rings|speaks_count)\./;

/** What is foreseen from the records, and the drawings that speak for it. */
const ofForesight = /\/(foreseen(_|\.tsx)|Foreseen)(?!slot)|\/evidence(\/|_page)|(logbook|exchange)\/slips\./;

const isOfRooms = (id: string): boolean =>
  id.includes("/src/") && !ofPhones.test(id) && !ofForesight.test(id);

/** Words, rules, drawings, screens, each room's together: what compresses the rooms' script sees 32 kB of it at once. 1 kB less. */
function alikeBesideAlike(): Plugin {
  const list = "virtual:rooms-in-order";
  const order = [/words\.ts$/, /\.ts$/, /drawings\/\w+\.tsx$/, /\.tsx$/];
  // in style sheets the order counts: theirs stays what it was
  const styles = ["batches/screen", "wet_hands/ring", "profiling/put_right", "profiling/screen"];
  styles.push("alarms/ringing", "blades/screen", "care/screen", "profiling/later", "set_up/screen");
  const rank = (path: string): string => `${order.findIndex((alike) => alike.test(path))}${path}`;
  return {
    name: "alike-beside-alike",
    apply: "build",
    resolveId: (id) => (id === list ? `\0${list}` : null),
    load(id) {
      if (id !== `\0${list}`) return null;
      const inOrder = readdirSync(here("./src"), { recursive: true, withFileTypes: true })
        .filter((entry) => /(?<!\.d)\.tsx?$/.test(entry.name) && entry.name !== "main.tsx")
        .map((entry) => join(entry.parentPath, entry.name))
        .filter(isOfRooms)
        .sort((a, b) => (rank(a) < rank(b) ? -1 : 1));
      const first = styles.map((name) => here(`./src/${name}.css`));
      return [...first, ...inOrder].map((path) => `import ${JSON.stringify(path)};`).join("\n");
    },
    transform(code, id) {
      const isLoadedLate = /bench_day\/(\w+_page\.tsx|beside\.ts|today_late\.tsx)$/.test(id);
      if (!isLoadedLate || !isOfRooms(id) || id.endsWith("/today_page.tsx")) return null;
      return { code: `import "${list}";\n${code}`, map: null };
    },
  };
}

/** The first screen with all that it imports; every other room; what several phones need; what is foreseen. More files would be some 20 kB more. */
const fewFiles = [
  { name: "first", priority: 2, test: /src\/main\.tsx$|bench_day\/today_page\.tsx$/ },
  { name: "rooms", priority: 1, test: isOfRooms },
  { name: "phones", priority: 0, test: ofPhones },
  { name: "foreseen", priority: 0, test: ofForesight },
];

export default defineConfig({
  plugins: [
    testsUseOurPackages(),
    plainImport(),
    preact({ devToolsEnabled: false }),
    shortElements(),
    calledAtOnce(),
    handedOnByOwnName(),
    alikeBesideAlike(),
    serviceWorker(here("./src/offline/worker.js")),
  ],
  resolve: { alias: { src: here("./src") } },
  publicDir: here("./public"),
  build: {
    outDir: "../server/easelside/web/client",
    emptyOutDir: true,
    target: "es2022",
    assetsInlineLimit: 0,
    modulePreload: false,
    minify: "terser",
    terserOptions: {
      module: true,
      ecma: 2022,
      mangle: false,
      compress: { passes: 3, inline: 1, unsafe_arrows: true },
    },
    // Few files: what is compressed together is smaller, and the worker fetches all of them anyway.
    cssCodeSplit: false,
    rolldownOptions: {
      checks: { pluginTimings: false },
      output: { minify: true, codeSplitting: { groups: fewFiles } }, // after terser, and the names: 1.2 kB less than either alone
    },
  },
  server: {
    port: 5173,
    proxy: { "/api": "http://127.0.0.1:8765" },
    fs: { allow: [here("."), here("../tests")] },
  },
  test: {
    root: here("."),
    dir: here("../tests/webclient"),
    include: ["**/*.test.{ts,tsx}"],
    environment: "node",
    env: { TZ: "Europe/Berlin", LC_ALL: "en_US.UTF-8" }, // wherever the tests run
    setupFiles: [here("../tests/webclient/same_examples.ts")],
    testTimeout: 60_000, // a property on a busy machine
    css: true, // a test reads the colours as the build does
  },
});
