// The one-file page: `node bundle.mjs ENGINE.wasm OUT.html` puts script, style and engine into index.html.
import { createHash } from "node:crypto";
import { readFileSync, writeFileSync } from "node:fs";
import { dirname, join, resolve } from "node:path";
import { fileURLToPath } from "node:url";
import zopfli from "@gfx/zopfli";
import { build } from "esbuild";
import { toLetters } from "./letters.js";

const here = dirname(fileURLToPath(import.meta.url));
const page = resolve(here, "../src/workbench/page");
const [engine, out] = process.argv.slice(2);

/** The same page with another carrier, and the worker's script as a text. */
const carrier = {
  name: "carrier",
  setup({ onResolve, onLoad }) {
    onResolve({ filter: /^\.\/carrier\.js$/ }, () => ({ path: join(here, "carrier.js") }));
    onResolve({ filter: /^worker:/ }, ({ path }) => ({ path: join(here, path.slice("worker:".length)), namespace: "worker" }));
    onLoad({ filter: /./, namespace: "worker" }, async ({ path }) => {
      const script = await build({ entryPoints: [path], minify: true, write: false, format: "iife" });
      return { contents: script.outputFiles[0].text, loader: "text" };
    });
  },
};

// A classic script: module scripts do not load from a file.
const options = { bundle: true, minify: true, write: false, charset: "utf8", legalComments: "none", target: "es2022" };
const script = await build({ ...options, entryPoints: [join(page, "main.js")], format: "iife", plugins: [carrier] });
const style = await build({ ...options, entryPoints: [join(page, "look.css")] });
// It stands before all else in the page, so that it is there while the rest is still read.
const first = await build({ ...options, entryPoints: [join(page, "early.js")], format: "iife" });
const early = first.outputFiles[0].text.trim();
const js = script.outputFiles[0].text.trim().replaceAll("</script", "<\\/script");
const css = style.outputFiles[0].text.trim();

const hash = (text) => `'sha256-${createHash("sha256").update(text).digest("base64")}'`;
// Its own script and style, its own worker, and nothing from anywhere.
const policy = [
  "default-src 'none'",
  `script-src ${hash(early)} ${hash(js)} 'wasm-unsafe-eval' blob:`,
  "worker-src blob:",
  `style-src ${hash(css)}`,
  "img-src data: blob:",
  "connect-src 'none'",
  "base-uri 'none'",
  "form-action 'none'",
].join("; ");

// The same format as any other, a twentieth smaller; these rounds and as many blocks as pay find 0.3 % more than three rounds of
// the usual fifteen blocks, more rounds next to nothing.
const gzip = await zopfli.gzipAsync(readFileSync(engine), { numiterations: 12, blocksplittingmax: 0 });
const html = readFileSync(join(page, "index.html"), "utf8");
const put = (text, from, to) => {
  if (!text.includes(from)) throw new Error(`index.html has no ${from}`);
  return text.replace(from, () => to);
};
let whole = put(html, '<link rel="stylesheet" href="look.css">', `<meta http-equiv="content-security-policy" content="${policy}">\n<style>${css}</style>`);
whole = put(whole, '<script src="early.js"></script>\n', "");
whole = put(whole, "<style>", `<script>${early}</script>\n<style>`);
whole = put(whole, '<script type="module" src="main.js"></script>\n', "");
whole = put(whole, "</body>", `<script type="application/octet-stream" id="engine" data-bytes="${gzip.length}">${toLetters(gzip)}</script>\n<script>${js}</script>\n</body>`);
writeFileSync(out, whole);
console.log(`${out}: ${(whole.length / 1e6).toFixed(2)} MB`);
