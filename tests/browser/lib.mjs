// What every browser check needs: the built binary, a browser, an accessibility engine.
import { execFileSync } from "node:child_process";
import { mkdtempSync, readFileSync, rmSync } from "node:fs";
import { createRequire } from "node:module";
import { tmpdir } from "node:os";
import { dirname, join, resolve } from "node:path";
import { fileURLToPath } from "node:url";
import { chromium } from "playwright-core";

/** The repository. */
export const root = resolve(dirname(fileURLToPath(import.meta.url)), "../..");

/** The program under test; .ci/run names the one it built. */
export const binary = resolve(root, process.env.CAPWRIGHT ?? "target/debug/capwright");

/** Runs the program in the repository and returns what it printed. Exit code 1 (findings) is fine. */
export function capwright(...args) {
  try {
    return execFileSync(binary, args, { cwd: root, encoding: "utf8", stdio: ["ignore", "pipe", "pipe"] });
  } catch (error) {
    if (error.status === 1) return error.stdout;
    throw new Error(`capwright ${args.join(" ")}: exit code ${error.status}\n${error.stderr}`);
  }
}

/** Calls `use` with a fresh folder that is gone afterwards. */
export async function inFolder(use) {
  const folder = mkdtempSync(join(tmpdir(), "capwright-"));
  try {
    return await use(folder);
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
}

/** Debian's chromium, headless, with its calls home turned off. Close it when done. */
export function startBrowser() {
  return chromium.launch({
    executablePath: process.env.CHROMIUM ?? "/usr/bin/chromium",
    headless: true,
    args: [
      "--no-sandbox",
      "--disable-gpu",
      "--disable-quic",
      "--no-first-run",
      "--disable-background-networking",
      "--disable-component-update",
      "--disable-sync",
    ],
  });
}

const axeSource = readFileSync(createRequire(import.meta.url).resolve("axe-core/axe.min.js"), "utf8");

/** Accessibility violations of the open page, as lines; by default the serious and the critical ones. */
export async function violations(page, impacts = ["serious", "critical"]) {
  await page.evaluate(axeSource);
  const found = await page.evaluate(() => globalThis.axe.run(document, { resultTypes: ["violations"] }));
  return found.violations
    .filter((violation) => impacts.includes(violation.impact))
    .map((violation) => `${violation.impact} ${violation.id}: ${violation.nodes.map((node) => node.html.slice(0, 160)).join(" | ")}`);
}

/** How many pixels the page can be scrolled sideways. */
export function sidewaysScroll(page) {
  return page.evaluate(() => document.documentElement.scrollWidth - document.documentElement.clientWidth);
}

/** A text with every run of white space as one space. */
export const plain = (text) => text.replace(/\s+/g, " ").trim();

/** The text of every page of a PDF, in the order in which it is drawn, read by poppler. */
export function pdfPages(file) {
  const text = execFileSync("pdftotext", ["-raw", file, "-"], {
    encoding: "utf8",
    maxBuffer: 1 << 26,
    stdio: ["ignore", "pipe", "ignore"],
  });
  return text.split("\f").slice(0, -1).map(plain);
}
