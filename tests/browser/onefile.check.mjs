// The one-file page, opened from a file, without a network: CAPWRIGHT_PAGE names it (.ci/run builds it).
import assert from "node:assert/strict";
import { readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { after, before, describe, test } from "node:test";
import { pathToFileURL } from "node:url";
import { capwright, inFolder, pdfPages, root, sidewaysScroll, startBrowser, violations } from "./lib.mjs";

const path = process.env.CAPWRIGHT_PAGE;
const skip = path ? false : "CAPWRIGHT_PAGE is not set";
let browser;

before(async () => {
  if (!skip) browser = await startBrowser();
});
after(async () => browser?.close());

/** Calls `use` with the page; a fault, or any request beside the file itself, fails the check. */
async function onPage(use, { before: prepare, ...options } = {}) {
  const context = await browser.newContext({ viewport: { width: 1280, height: 900 }, reducedMotion: "reduce", ...options });
  const page = await context.newPage();
  const faults = [];
  page.on("pageerror", (error) => faults.push(error.message));
  page.on("console", (message) => message.type() === "error" && faults.push(message.text()));
  page.on("request", (request) => /^https?:/.test(request.url()) && faults.push(request.url()));
  if (prepare) await page.addInitScript(prepare);
  try {
    await page.goto(pathToFileURL(path).href);
    await use(page);
    assert.deepEqual(faults, []);
  } finally {
    await context.close();
  }
}

const worked = (page, pattern) => page.locator("#r-summary").filter({ hasText: pattern }).waitFor({ state: "attached" });

async function saved(page, kind) {
  const waiting = page.waitForEvent("download");
  await page.locator(`[data-file="${kind}"]`).click();
  return readFileSync(await (await waiting).path());
}

describe("the page in one file", { skip }, () => {
  test("it holds all it needs, and little", () => {
    const html = readFileSync(path, "utf8");
    // With the PDF part 5 MB, without it 1.5 MB.
    assert.ok(html.length < 5e6, `${html.length} bytes`);
    assert.match(html, /connect-src 'none'/);
    assert.doesNotMatch(html, /<(?:link|img|script)[^>]+(?:href|src)="(?!data:)/);
  });

  test("a whole pattern fills it, and the amended one is the command's", () =>
    onPage(async (page) => {
      const text = readFileSync(join(root, "tests/leaflets/01-alder-pullover.txt"), "utf8");
      await page.locator("#paste").fill(text);
      await page.getByRole("button", { name: "Read it" }).click();
      await page.locator("#h-leaflet").waitFor();
      await page.locator("#on-gauge-round").check();
      await page.locator("#f-gauge-round-stitches").fill("22.5");
      await page.locator("#f-gauge-round-rows").fill("31");
      await worked(page, /turn pairs/);
      const toml = await saved(page, "toml");
      const waiting = page.waitForEvent("download");
      await page.locator('[data-amended="amended-txt"]').click();
      const amended = readFileSync(await (await waiting).path(), "utf8");
      await inFolder((folder) => {
        const [pattern, path] = [join(folder, "alder.txt"), join(folder, "case.toml")];
        writeFileSync(pattern, text);
        writeFileSync(path, toml);
        assert.equal(amended, capwright("amend", pattern, path));
      });
    }));

  test("an example from a file gives the command's bytes", () =>
    onPage(async (page) => {
      await page.locator("#our-cases").selectOption("0");
      await worked(page, /turn pairs/);
      assert.equal(String(await saved(page, "txt")), capwright("convert", "cases/tern-harbour.toml"));
      const toml = await saved(page, "toml");
      const html = await saved(page, "html");
      await inFolder((folder) => {
        const file = join(folder, "case.toml");
        writeFileSync(file, toml);
        capwright("convert", file, "-o", join(folder, "sheet.html"));
        assert.ok(html.equals(readFileSync(join(folder, "sheet.html"))), "worksheet");
      });
    }));

  test("work is kept, or it is said that it is not", async () => {
    await onPage(async (page) => {
      await page.locator("#our-cases").selectOption("0");
      await worked(page, /turn pairs/);
      await page.locator("#f-title").fill("Kept in the file");
      await page.reload();
      await page.locator("#f-title").waitFor();
      assert.equal(await page.locator("#f-title").inputValue(), "Kept in the file");
    });
    await onPage(
      async (page) => {
        await page.locator("#our-cases").selectOption("0");
        await worked(page, /turn pairs/);
        assert.match(await page.locator("#kept").textContent(), /save the case to a file/);
      },
      { before: () => Object.defineProperty(window, "localStorage", { get: () => { throw new DOMException("no", "SecurityError"); } }) },
    );
  });

  test("a browser that cannot run it says so in a sentence", () =>
    onPage(
      async (page) => {
        await page.locator("#notice").filter({ hasText: /too old for this page/ }).waitFor();
      },
      { before: () => Reflect.deleteProperty(window, "DecompressionStream") },
    ));

  test("a trap in the engine starts it anew and keeps what was typed", () =>
    onPage(
      async (page) => {
        await page.locator("#our-cases").selectOption("0");
        await worked(page, /turn pairs/);
        await page.evaluate(() => (globalThis.trap = true));
        await page.locator("#f-title").fill("After the trap");
        await page.locator("#notice").filter({ hasText: /started anew/ }).waitFor();
        await page.locator("#f-title").fill("And on");
        await page.locator("#pattern-text").filter({ hasText: /^And on/ }).waitFor();
      },
      {
        // A worker that dies over the next request, as one does whose engine traps.
        before: () => {
          const post = Worker.prototype.postMessage;
          Worker.prototype.postMessage = function (message) {
            if (globalThis.trap && message.what === "convert") {
              globalThis.trap = false;
              this.onmessage({ data: { fault: "RuntimeError: unreachable" } });
            } else post.call(this, message);
          };
        },
      },
    ));

  test("three places one tap apart on a telephone; no sideways scroll; no serious barrier", () =>
    onPage(
      async (page) => {
        assert.equal(await sidewaysScroll(page), 0);
        await page.locator("#our-cases").selectOption("0");
        await worked(page, /turn pairs/);
        for (const [place, seen, hidden] of [["new", "#s-outline", "#form"], ["knit", "#s-pattern", "#s-outline"], ["old", "#form", "#result"]]) {
          await page.locator(`#places [data-place="${place}"]`).click();
          assert.ok(await page.locator(seen).isVisible(), place);
          assert.equal(await page.locator(hidden).isVisible(), false, place);
          assert.equal(await sidewaysScroll(page), 0, place);
          assert.deepEqual(await violations(page), [], place);
        }
      },
      { viewport: { width: 360, height: 740 } },
    ));

  test("print holds every letter of the pattern, from a wide page and from a telephone", async () => {
    for (const width of [1280, 360]) {
      await onPage(
        async (page) => {
          await page.locator("#our-cases").selectOption("1");
          await worked(page, /turn pairs/);
          const text = await page.locator("#pattern-text").textContent();
          await page.evaluate(() => (document.body.dataset.print = "pattern"));
          const printed = await page.pdf({ format: "A4" });
          await inFolder((folder) => {
            const file = join(folder, "print.pdf");
            writeFileSync(file, printed);
            const found = pdfPages(file).join(" ").replace(/\s/g, "");
            for (const line of text.split("\n")) assert.ok(found.includes(line.replace(/\s/g, "")), `${width}: ${line}`);
          });
        },
        { viewport: { width, height: 900 } },
      );
    }
  });

  test("a case or a worksheet opens again; what is none says so", () =>
    onPage(async (page) => {
      await page.locator("#our-cases").selectOption("0");
      await worked(page, /turn pairs/);
      const html = await saved(page, "html");
      await page.locator("#our-cases").selectOption("4");
      await page.locator("#pattern-text").filter({ hasText: /^(?!Tern)/ }).waitFor();
      await inFolder(async (folder) => {
        const sheet = join(folder, "sheet.html");
        writeFileSync(sheet, html);
        await page.locator("#open-file").setInputFiles(sheet);
        await page.locator("#pattern-text").filter({ hasText: /^Tern/ }).waitFor();
        writeFileSync(join(folder, "other.html"), "<p>Hello</p>");
        await page.locator("#open-file").setInputFiles(join(folder, "other.html"));
        await page.locator("#notice").filter({ hasText: /page without a case/ }).waitFor();
      });
    }));

  test("the first result is there within a second of opening, as far as this machine allows", () =>
    onPage(async (page) => {
      await page.locator("#our-cases").selectOption("0");
      await worked(page, /turn pairs/);
      // An idle machine needs half of it; three times as much is left to a busy one.
      const took = await page.evaluate(() => performance.now());
      assert.ok(took < 3000, `${took} ms`);
    }));
});
