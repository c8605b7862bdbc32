// Runs every *.check.mjs beside it with Node's own test runner: `npm run check`, or `node run.mjs pages` for one.
import { spawnSync } from "node:child_process";
import { readdirSync } from "node:fs";
import { dirname, join } from "node:path";
import { fileURLToPath } from "node:url";

const here = dirname(fileURLToPath(import.meta.url));
const wanted = process.argv.slice(2);
const files = readdirSync(here)
  .filter((name) => name.endsWith(".check.mjs"))
  .filter((name) => wanted.length === 0 || wanted.some((word) => name.startsWith(word)))
  .sort();
if (files.length === 0) {
  console.error(`no check is called ${wanted.join(", ") || "*.check.mjs"}`);
  process.exit(2);
}
// Two at a time: a browser and its page leave half of two cores idle.
const run = spawnSync(process.execPath, ["--test", "--test-concurrency=2", "--test-reporter=spec", ...files.map((name) => join(here, name))], {
  stdio: "inherit",
});
process.exit(run.status ?? 1);
