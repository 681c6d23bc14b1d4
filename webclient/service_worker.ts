/** Writes sw.js into the built client: the worker's source with the list of all files and one hash over them; and begin.js. */

import { createHash } from "node:crypto";
import { readdirSync, readFileSync, writeFileSync } from "node:fs";
import { dirname, join, relative, sep } from "node:path";
import { minify_sync } from "terser";
import type { Plugin } from "vite";

const WORKER = "sw.js";
const BEGIN = "begin.js";
const LEFT_OUT = /^(docs\/|sw\.js$|\.stamp$)/;

function filesIn(folder: string): string[] {
  return readdirSync(folder, { recursive: true, withFileTypes: true })
    .filter((entry) => entry.isFile())
    .map((entry) => relative(folder, join(entry.parentPath, entry.name)).split(sep).join("/"))
    .filter((name) => !LEFT_OUT.test(name))
    .sort();
}

/** writeBundle, after all others: in generateBundle index.html and public/ are not there yet. */
export function serviceWorker(source: string): Plugin {
  return {
    name: "service-worker",
    apply: "build",
    enforce: "post",
    writeBundle: {
      order: "post",
      sequential: true,
      handler({ dir }) {
        if (!dir) return;
        const short = (from: string) => minify_sync(readFileSync(from, "utf8"), { ecma: 2020 }).code ?? "";
        writeFileSync(join(dir, BEGIN), short(join(dirname(source), BEGIN)));
        const worker = short(source);
        const version = createHash("sha256").update(worker);
        const urls: string[] = [];
        for (const name of filesIn(dir)) {
          version.update(`${name}\0`).update(
            createHash("sha256")
              .update(readFileSync(join(dir, name)))
              .digest(),
          );
          urls.push(name === "index.html" ? "/" : `/${name}`);
        }
        const head = `const VERSION = ${JSON.stringify(version.digest("hex").slice(0, 16))};\nconst FILES = ${JSON.stringify(urls)};\n`;
        writeFileSync(join(dir, WORKER), head + worker);
      },
    },
  };
}
