// The workbench in a real browser: from pasted lines to a pattern that equals the command's bytes.
import assert from "node:assert/strict";
import { spawn } from "node:child_process";
import { readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { after, before, describe, test } from "node:test";
import { HtmlValidate } from "html-validate";
import { binary, capwright, inFolder, root, sidewaysScroll, startBrowser, violations } from "./lib.mjs";

let browser;
let server;
let address;

before(async () => {
  browser = await startBrowser();
  server = spawn(binary, ["workbench", "--port", "0"], { stdio: ["ignore", "pipe", "inherit"] });
  address = await new Promise((found) => {
    server.stdout.on("data", (data) => {
      const line = /http:\/\/127\.0\.0\.1:\d+\//.exec(String(data));
      if (line) found(line[0]);
    });
  });
});

after(async () => {
  await browser.close();
  server.kill("SIGINT");
});

/** Calls `use` with a page of a browser that knows nothing; any error on the page fails the check. */
async function onPage(use, { quiet, fresh, ...options } = {}) {
  const context = await browser.newContext({ viewport: { width: 1280, height: 900 }, reducedMotion: "reduce", ...options });
  const page = await context.newPage();
  const faults = [];
  page.on("pageerror", (error) => faults.push(error.message));
  page.on("console", (message) => message.type() === "error" && !/status of 4\d\d/.test(message.text()) && faults.push(message.text()));
  try {
    await page.goto(address);
    await page.locator("#paste").waitFor();
    if (!fresh) {
      await page.locator("#our-cases").selectOption("0");
      await worked(page, /turn pairs/);
    }
    await use(page, context);
    if (!quiet) assert.deepEqual(faults, []);
  } finally {
    await context.close();
  }
}

/** Waits until the summary says this. */
const worked = (page, pattern) => page.locator("#r-summary").filter({ hasText: pattern }).waitFor({ state: "attached" });

/** The text of a downloaded file. */
async function saved(page, click) {
  const waiting = page.waitForEvent("download");
  await click();
  const download = await waiting;
  const bytes = readFileSync(await download.path());
  return { name: download.suggestedFilename(), bytes, text: bytes.toString("utf8") };
}

const file = (page, kind) => saved(page, () => page.locator(`[data-file="${kind}"]`).click());

const LINES = `Bind off 6 sts at the beginning of the next 2 rows (60 sts).
Decrease 1 st each end of the next 3 rows, then every other row 12 times (30 sts).
Bind off 3 sts at the beginning of the next 4 rows.
Bind off the remaining 18 sts.`;

/** Fills in a sleeve of one size, in centimetres. */
async function fillIn(page, lines = LINES) {
  if (await page.locator("#start-empty").isEnabled()) await page.locator("#start-empty").click();
  await page.locator('input[name="units"][value="cm"]').check();
  await page.locator("#paste").fill(lines);
  await page.getByRole("button", { name: "Read it" }).click();
  assert.equal(await page.locator("#f-sleeve-cap").inputValue(), lines);
  await page.locator("#part-name > summary").click();
  await page.getByLabel("Name", { exact: true }).fill("Heron pullover");
  await page.locator("#f-sleeve-stitches").fill("72");
  await page.locator("#f-gauge-pattern-stitches").fill("21");
  await page.locator("#f-gauge-pattern-rows").fill("28");
  await page.locator("#on-gauge-round").check();
  await page.locator("#f-gauge-round-stitches").fill("21.5, 22, 21.5");
  await page.locator("#f-gauge-round-rows").fill("29, 29.5, 29");
  await page.locator("#f-armhole-edge").fill("21");
  await page.locator("#f-armhole-underarm").fill("2.8");
  await page.locator("#f-armhole-depth").fill("19.5");
}

describe("one sleeve", () => {
  test("from pasted lines to a pattern that equals the command's, byte for byte", () =>
    onPage(async (page) => {
      await fillIn(page);
      await worked(page, /turn pairs/);
      const toml = await file(page, "toml");
      assert.equal(toml.name, "heron-pullover.toml");
      const text = await file(page, "txt");
      const json = await file(page, "json");
      const csv = await file(page, "csv");
      const html = await file(page, "html");
      const pdf = await file(page, "pdf");
      const svg = await saved(page, () => page.locator('[data-figure="fabric-map"]').getByRole("button", { name: "Save as SVG" }).click());
      await inFolder((folder) => {
        const path = join(folder, "case.toml");
        writeFileSync(path, toml.text);
        assert.equal(text.text, capwright("convert", path));
        assert.equal(json.text, capwright("convert", path, "--format", "json"));
        assert.equal(csv.text, capwright("convert", path, "--checklist", "csv"));
        const written = (name, ...more) => {
          capwright("convert", path, "-o", join(folder, name), ...more);
          return readFileSync(join(folder, name));
        };
        assert.ok(html.bytes.equals(written("x.html")), "HTML");
        assert.ok(pdf.bytes.equals(written("x.pdf")), "PDF");
        assert.ok(svg.bytes.equals(written("x.svg", "--figure", "fabric-map")), "SVG");
      });
      // From the measures on each reader is told what can be done here; all before is the file's text. No key stands on the page.
      const sleeve = (whole) => whole.slice(0, whole.indexOf("MEASURES TO CHECK"));
      const shown = await page.locator("#pattern-text").textContent();
      assert.ok(sleeve(text.text).includes("PICK UP"));
      assert.equal(sleeve(shown), sleeve(text.text));
      assert.doesNotMatch(shown, /so_far/);
      assert.match(text.text, /so_far\.\s*rows/);
    }));

  test("wrong lines are underlined and mended by a button", () =>
    onPage(async (page) => {
      await fillIn(page, LINES.replace("12 times (30 sts)", "13 times (30 sts)"));
      const wrong = page.locator(".mirror mark.error").first();
      await wrong.waitFor({ state: "attached" });
      assert.match(await page.locator("#r-summary").textContent(), /Not worked out/);
      const mend = page.getByRole("button", { name: /Change \u201c13\u201d to \u201c12\u201d/ }).first();
      await mend.click();
      await worked(page, /turn pairs/);
      assert.equal(await page.locator("#f-sleeve-cap").inputValue(), LINES);
      assert.equal(await page.locator(".mirror mark.error").count(), 0);
    }));

  test("what is wrong stands beside its field, in words, and nothing typed is lost", () =>
    onPage(async (page) => {
      await page.locator("#f-armhole-edge").fill("eight");
      const wrong = page.locator("#f-armhole-edge-wrong");
      await wrong.filter({ hasText: /not a number/ }).waitFor();
      assert.equal(await page.locator("#f-armhole-edge").getAttribute("aria-invalid"), "true");
      assert.match(await page.locator("#f-armhole-edge").getAttribute("aria-describedby"), /f-armhole-edge-wrong/);
      assert.equal(await page.locator("#f-armhole-edge").inputValue(), "eight");
      await page.locator("#f-armhole-edge").fill("8.2");
      await worked(page, /turn pairs/);
      assert.equal(await wrong.textContent(), "");
    }));

  test("reload keeps the work; undo and redo walk through it", () =>
    onPage(async (page) => {
      await page.locator("#f-title").fill("Kept");
      await page.locator("#f-sleeve-stitches").fill("7x");
      await page.reload();
      await page.locator("#f-title").waitFor();
      assert.equal(await page.locator("#f-title").inputValue(), "Kept");
      assert.equal(await page.locator("#f-sleeve-stitches").inputValue(), "7x");
      await page.locator("#f-title").fill("Changed");
      await page.keyboard.press("Control+z");
      assert.equal(await page.locator("#f-title").inputValue(), "Kept");
      await page.locator("#redo").click();
      assert.equal(await page.locator("#f-title").inputValue(), "Changed");
    }));

  test("kept work that cannot be shown is put aside", () =>
    onPage(async (page) => {
      await page.evaluate(() => localStorage.setItem("capwright.workbench.1", JSON.stringify({ values: { sizes: 3 }, on: {}, backlist: 7, door: "backlist" })));
      await page.reload();
      await page.locator("#paste").waitFor();
      assert.ok(await page.evaluate(() => localStorage.getItem("capwright.workbench.1.aside")));
    }, { quiet: true }));

  test("units switch everywhere at once and come back exactly", () =>
    onPage(async (page) => {
      await page.locator('input[name="units"][value="cm"]').check();
      await worked(page, /cm/);
      // 8.2 in are 20.828 cm, 36 in are 91.44 cm, 4 in are 10.16 cm (1 in = 2.54 cm, 1959).
      assert.equal(await page.locator("#f-armhole-edge").inputValue(), "20.83");
      assert.equal(await page.locator("#f-body-bust").inputValue(), "91.44");
      assert.equal(await page.locator("#f-gauge-pattern-over").inputValue(), "10.16");
      await page.locator('input[name="units"][value="in"]').check();
      await worked(page, /\d\sin/);
      assert.equal(await page.locator("#f-armhole-edge").inputValue(), "8.2");
      assert.equal(await page.locator("#f-body-bust").inputValue(), "36");
      assert.equal(await page.locator("#f-gauge-pattern-over").inputValue(), "");
    }));

  test("a line of the trade table fixes the runs; the field says so", () =>
    onPage(async (page) => {
      await page.locator("#effort-3").check();
      await worked(page, /; 3 runs to remember/);
      assert.equal(await page.locator("#s-fit-runs").inputValue(), "3");
      await page.locator("#effort-free").check();
      await worked(page, /; 3 runs to remember/);
      await page.locator('#s-effort [data-runs="2"]').first().click();
      await worked(page, /; 2 runs to remember/);
      const toml = await file(page, "toml");
      assert.match(toml.text, /\nruns = 2\n/);
      await page.locator("#undo").click();
      await worked(page, /; 3 runs to remember/);
    }));

  test("a drift that is tried is shown and never saved, nor given to knit", () =>
    onPage(async (page) => {
      const own = await page.locator("#pattern-text").textContent();
      const ownFile = (await file(page, "txt")).text;
      await page.locator("#s-whatif").fill("4");
      await worked(page, /Trying a drift of \+4\.0\s%/);
      assert.equal(await page.locator("#pattern-text").count(), 0);
      const toml = await file(page, "toml");
      // 22.5 stitches flat, four per cent more: 23.4; the example's own are 23.
      assert.doesNotMatch(toml.text, /23\.4/);
      assert.equal((await file(page, "txt")).text, ownFile);
      await page.getByRole("button", { name: "End the trial" }).click();
      await page.locator("#pattern-text").filter({ hasText: /^Tern/ }).waitFor();
      assert.equal(await page.locator("#pattern-text").textContent(), own);
    }));

  test("the turn pair under the pointer is explained", () =>
    onPage(async (page) => {
      const said = page.locator(".explained");
      const first = await said.textContent();
      await page.locator('[data-pair="7"]').first().hover();
      assert.notEqual(await said.textContent(), first);
      await page.locator("#pair").focus();
      await page.keyboard.press("Home");
      assert.equal(await said.textContent(), first);
    }));

  test("answers that were overtaken are dropped", () =>
    onPage(async (page) => {
      let held;
      await page.route("**/api/convert", async (route) => {
        const late = route.request().postData().includes("First");
        if (late) await new Promise((free) => (held = free));
        await route.continue().catch(() => {});
      });
      await page.locator("#f-title").fill("First");
      await page.waitForTimeout(300);
      await page.locator("#f-title").fill("Second");
      await page.locator("#pattern-text").filter({ hasText: /^Second/ }).waitFor();
      held();
      await page.waitForTimeout(300);
      assert.match(await page.locator("#pattern-text").textContent(), /^Second/);
    }));
});

const printed = (name) => readFileSync(join(root, "tests/leaflets", name), "utf8");

/** Drops a file on the page as a browser would. */
async function dropFile(page, name, text) {
  const data = await page.evaluateHandle(
    ([file, content]) => {
      const carried = new DataTransfer();
      carried.items.add(new File([content], file));
      return carried;
    },
    [name, text],
  );
  await page.dispatchEvent("body", "drop", { dataTransfer: data });
}

describe("a whole pattern", () => {
  test("pasted, it fills the fields, shows the words each came from, and asks for what is open", () =>
    onPage(
      async (page) => {
        const text = printed("01-alder-pullover.txt");
        await page.locator("#paste").fill(text);
        await page.getByRole("button", { name: "Read it" }).click();
        await page.locator("#h-leaflet").waitFor();
        // As printed: 66 (70, 74, 80) stitches before the cap, 22 stitches and 30 rows to 4 in.
        assert.equal(await page.locator("#f-sleeve-stitches").inputValue(), "66 (70, 74, 80)");
        assert.equal(await page.locator("#f-gauge-pattern-stitches").inputValue(), "22");
        assert.equal(await page.locator("#f-gauge-pattern-rows").inputValue(), "30");
        assert.equal(await page.locator("#f-sizes").inputValue(), "S, M, L, XL");
        assert.ok(await page.locator('input[name="units"][value="in"]').isChecked());
        const mark = page.locator('[data-from="sleeve.stitches"]');
        await mark.locator("summary").click();
        assert.match(await mark.textContent(), /Page 1, line 24: .*66 \(70, 74, 80\)/);
        // Nothing but the knitter's own swatch is open.
        assert.deepEqual(await page.locator("[data-open]").evaluateAll((items) => items.map((item) => item.dataset.open)), ["gauge.round"]);
        assert.equal(await page.locator(".said.error:visible").count(), 0);
        await page.locator('[data-open="gauge.round"]').getByRole("button", { name: "Fill it in" }).click();
        await page.keyboard.type("22.5");
        await page.locator("#f-gauge-round-rows").fill("31");
        await worked(page, /turn pairs/);
        assert.equal(await page.locator("[data-open]").count(), 0);
        await page.locator("#result:not(.aged):not(.busy)").waitFor();
        assert.deepEqual(await violations(page), []);
      },
      { fresh: true },
    ));

  test("what holds no words says what it is; of a whole section only the cap is kept", () =>
    onPage(async (page) => {
      // The first bytes of a PNG (W3C, PNG, 5.2), here in a text: all but the first are ASCII.
      const notice = page.locator("#notice");
      await page.evaluate(async () => {
        const carried = new DataTransfer();
        carried.items.add(new File([new Uint8Array([0x89, 0x50, 0x4e, 0x47, 0x0d, 0x0a, 0x1a, 0x0a])], "holiday.png"));
        document.body.dispatchEvent(new DragEvent("drop", { dataTransfer: carried, cancelable: true, bubbles: true }));
      });
      await notice.filter({ hasText: "holiday.png is a picture" }).waitFor();
      await dropFile(page, "x.json", '{"a": 1}');
      await notice.filter({ hasText: "x.json is JSON" }).waitFor();
      await fillIn(page);
      const cap = page.locator("#f-sleeve-cap");
      const lines = (await cap.inputValue()).trim();
      await cap.fill(`Cast on 40 sts.\n${lines}\nFinishing: weave in all ends.`);
      await page.getByRole("button", { name: "Keep only the cap" }).click();
      assert.equal(await cap.inputValue(), lines);
      await worked(page, /turn pairs/);
    }));

  test("the amended pattern is the command's, and without what is put in it is the print", () =>
    onPage(
      async (page) => {
        const text = printed("03-cardigan-halves.txt");
        await dropFile(page, "fenland.txt", text);
        await page.locator("#h-leaflet").waitFor();
        await page.locator("#on-gauge-round").check();
        await page.locator("#f-gauge-round-stitches").fill("23.5");
        await page.locator("#f-gauge-round-rows").fill("32");
        await worked(page, /turn pairs/);
        const amended = (kind) => saved(page, () => page.locator(`[data-amended="${kind}"]`).click());
        const marked = await amended("amended-txt");
        const plain = await amended("amended-plain");
        const sheet = await amended("amended-html");
        const toml = await file(page, "toml");
        await inFolder((folder) => {
          const [pattern, path] = [join(folder, "fenland.txt"), join(folder, "case.toml")];
          writeFileSync(pattern, text);
          writeFileSync(path, toml.text);
          assert.equal(marked.text, capwright("amend", pattern, path));
          assert.equal(plain.text, capwright("amend", pattern, path, "--unmarked"));
        });
        const [, body] = marked.text.split("The amended pattern\n-------------------\n");
        assert.equal(body.replace(/\u27e6\d+\+ [^\u27e7]*\u27e7/g, "").replace(/\u27e6\d+\u2212 ([^\u27e7]*)\u27e7/g, "$1"), text);
        assert.match(sheet.text, /only by whoever holds the rights/);
        const report = await new HtmlValidate({ extends: ["html-validate:recommended"] }).validateString(sheet.text);
        assert.deepEqual(report.results.flatMap((result) => result.messages.map((one) => `${one.line}: ${one.message}`)), []);
        // What is taken out and what is put in are told apart by their signs, too.
        const other = await page.context().newPage();
        await other.setContent(sheet.text);
        const sign = (name) => other.locator(`.amended ${name}`).first().evaluate((piece) => getComputedStyle(piece, "::before").content);
        assert.match(await sign("ins"), /\+/);
        assert.match(await sign("del"), /\u2212/);
        await other.close();
      },
      { fresh: true },
    ));

  test("a sleeve section alone fills what it holds; the rest is asked for, not an error", () =>
    onPage(
      async (page) => {
        const text = printed("01-alder-pullover.txt");
        await page.locator("#paste").fill(text.slice(text.indexOf("SLEEVES"), text.indexOf("FINISHING")));
        await page.getByRole("button", { name: "Read it" }).click();
        await page.locator("#h-leaflet").waitFor();
        assert.equal(await page.locator("#f-sleeve-stitches").inputValue(), "66 (70, 74, 80)");
        assert.match(await page.locator("#f-sleeve-cap").inputValue(), /^Bind off 4 \(5, 5, 6\)/);
        const open = await page.locator("[data-open]").evaluateAll((items) => items.flatMap((item) => item.dataset.open.split(" ")));
        for (const key of ["gauge.pattern.stitches", "gauge.pattern.rows", "armhole.stitches", "armhole.lines", "gauge.round"]) assert.ok(open.includes(key), `${key} of ${open}`);
        // An armhole that is not printed can be given by its measures.
        await page.locator('[data-open~="armhole.lines"]').getByRole("button", { name: "Fill it in" }).click();
        await page.keyboard.type("21");
        assert.equal(await page.locator("#f-armhole-edge").inputValue(), "21");
        assert.equal(await page.locator('[data-open~="armhole.lines"]').count(), 0);
        assert.equal(await page.locator(".said.error:visible").count(), 0);
      },
      { fresh: true },
    ));

  test("what is no set-in sleeve is refused with its signs, and nothing is lost", () =>
    onPage(
      async (page) => {
        const text = printed("40-raglan.txt");
        await page.locator("#paste").fill(text);
        await page.getByRole("button", { name: "Read it" }).click();
        await page.locator("#notice").filter({ hasText: /raglan/ }).waitFor();
        assert.equal(await page.locator("#paste").inputValue(), text);
        assert.equal(await page.locator("#form").isVisible(), false);
      },
      { fresh: true },
    ));

  test("of several garments one is taken with a click, of several sleeves another, as by `new --garment N --sleeve N`", () =>
    onPage(
      async (page) => {
        await page.locator("#paste").fill(printed("56-two-garments.txt"));
        await page.getByRole("button", { name: "Read it" }).click();
        // As printed: two pullovers, the second with 76 (80) stitches before its cap.
        const found = page.getByRole("list", { name: "Garments in this text" }).getByRole("button");
        await found.first().waitFor();
        assert.deepEqual(await found.allTextContents(), ["HER PULLOVER", "HIS PULLOVER"]);
        await page.waitForFunction(() => document.activeElement?.dataset.garment === "1");
        assert.deepEqual(await violations(page), []);
        await page.keyboard.press("Tab");
        await page.keyboard.press("Enter");
        await page.locator("#h-leaflet").waitFor();
        assert.equal(await page.locator("#f-sleeve-stitches").inputValue(), "76 (80)");
        assert.equal(await page.locator("#notice").isVisible(), false);
        const toml = await file(page, "toml");
        await inFolder((folder) => {
          const [whole, path] = [join(root, "tests/leaflets/56-two-garments.txt"), join(folder, "case.toml")];
          // What is open is said by the exit code; the page's file and the command's are the same case.
          capwright("new", path, "--from", whole, "--garment", "2");
          const keys = (text) => text.split("\n").filter((line) => /^(?:stitches|cap|sizes) =/.test(line));
          assert.deepEqual(keys(toml.text), keys(readFileSync(path, "utf8")));
        });
        await page.locator("#start-empty").click();
        await page.locator("#paste").fill(printed("66-plain-and-panel.txt"));
        await page.getByRole("button", { name: "Read it" }).click();
        const other = page.getByRole("group", { name: /Several sleeves/ }).getByLabel("LEFT SLEEVE (with cable panel)");
        await other.waitFor();
        // As printed: 68 (72, 78) stitches before the plain cap, 74 (78, 84) before the one with the panel.
        assert.equal(await page.locator("#f-sleeve-stitches").inputValue(), "68 (72, 78)");
        await other.check();
        await page.waitForFunction(() => document.querySelector("#f-sleeve-stitches").value === "74 (78, 84)");
        assert.ok(await other.isChecked());
        await page.locator("#undo").click();
        assert.equal(await page.locator("#f-sleeve-stitches").inputValue(), "68 (72, 78)");
        assert.deepEqual(await violations(page), []);
      },
      { fresh: true },
    ));

  test("a PDF is read like its text; undo brings back what was there", () =>
    onPage(
      async (page) => {
        await page.locator("#open-pattern").setInputFiles(join(root, "tests/leaflets/cairo.pdf"));
        await page.locator("#h-leaflet").waitFor();
        assert.equal(await page.locator("#f-sleeve-stitches").inputValue(), "66 (70, 74, 80)");
        await page.locator("#undo").click();
        await page.locator("#paste").waitFor();
        assert.equal(await page.locator("#leaflet").isVisible(), false);
        await page.locator("#redo").click();
        await page.locator("#h-leaflet").waitFor();
      },
      { fresh: true },
    ));

  test("a file that is dropped before the page has begun is read, and never opened in its place", async () => {
    const context = await browser.newContext();
    const page = await context.newPage();
    let release;
    const held = new Promise((go) => (release = go));
    await page.route("**/api/start", async (route) => {
      await held;
      await route.continue();
    });
    await page.goto(address);
    // A drop that nobody holds back would be opened: its default is to leave the page.
    const kept = await page.evaluate((text) => {
      const carried = new DataTransfer();
      carried.items.add(new File([text], "alder.txt"));
      const over = new DragEvent("dragover", { dataTransfer: carried, cancelable: true, bubbles: true });
      const dropped = new DragEvent("drop", { dataTransfer: carried, cancelable: true, bubbles: true });
      document.body.dispatchEvent(over);
      document.body.dispatchEvent(dropped);
      return over.defaultPrevented && dropped.defaultPrevented;
    }, printed("01-alder-pullover.txt"));
    assert.ok(kept);
    release();
    await page.locator("#h-leaflet").waitFor();
    assert.equal(await page.locator("#f-sleeve-stitches").inputValue(), "66 (70, 74, 80)");
    await context.close();
  });
});

describe("first contact", () => {
  test("one paste and six answers make a pattern; nothing is an error before it was filled in", () =>
    onPage(
      async (page) => {
        assert.equal(await page.locator("#form").isVisible(), false);
        await page.locator("#paste").fill(LINES);
        await page.getByRole("button", { name: "Read it" }).click();
        await page.locator(".needs li").nth(5).waitFor();
        assert.equal(await page.locator(".needs li").count(), 6);
        assert.equal(await page.locator(".said.error:visible").count(), 0);
        for (const answer of ["72", "21", "28", "21", "2,8", "19\u00bd"]) {
          assert.equal(await page.evaluate(() => document.activeElement.value), "");
          await page.keyboard.type(answer);
          await page.waitForTimeout(400);
          await page.keyboard.press("Enter");
        }
        await worked(page, /turn pairs/);
        const toml = await file(page, "toml");
        assert.match(toml.text, /underarm = 2\.8\n/);
        assert.match(toml.text, /depth = 19\.5\n/);
      },
      { fresh: true },
    ));

  test("numbers as people type them, and units taken wrongly", () =>
    onPage(async (page) => {
      const edge = page.locator("#f-armhole-edge");
      const read = page.locator('[data-understood="armhole.edge"]');
      // 1 in = 2.54 cm (1959).
      for (const [typed, text] of [["8 1/5", "8.2"], ["8\u00bd", "8.5"], ["8-1/4", "8.25"], ['8"', "8"], ["20.32 cm", "8"], ["8,2", "8.2"]]) {
        await edge.fill(typed);
        assert.equal(await read.textContent(), `Read as ${text}\u00a0in.`, typed);
      }
      // 220 cm are no armhole either: the other units are offered where they help.
      const centimetres = page.getByRole("button", { name: "They were centimetres" });
      await edge.fill("220");
      await page.locator('[data-path="armhole.edge"] .wrong').filter({ hasText: /220 in/ }).waitFor();
      assert.equal(await centimetres.count(), 0);
      await edge.fill("50");
      await centimetres.click();
      assert.equal(await edge.inputValue(), "50 cm");
    }));

  test("another example or an empty start shows nothing of the sleeve before", () =>
    onPage(async (page) => {
      await page.locator("#start-empty").click();
      await page.locator("#paste").waitFor();
      assert.equal(await page.locator("#result").isVisible(), false);
      assert.equal(await page.locator("#pattern-text").count(), 0);
    }));

  test("two tabs never overwrite each other in silence", () =>
    onPage(async (page, context) => {
      const other = await context.newPage();
      await other.goto(address);
      await other.locator("#f-title").fill("The other tab");
      await page.locator("#clash").waitFor();
      await page.locator("#f-title").fill("This tab");
      assert.match(await page.evaluate(() => localStorage.getItem("capwright.workbench.1")), /The other tab/);
      await page.getByRole("button", { name: "Take the other tab" }).click();
      assert.equal(await page.locator("#f-title").inputValue(), "The other tab");
      await page.locator("#undo").click();
      assert.equal(await page.locator("#f-title").inputValue(), "This tab");
    }));

  test("a count over the usual length keeps it when the units change", () =>
    onPage(async (page) => {
      await page.locator("#f-gauge-round-stitches").fill("");
      await page.locator('input[name="units"][value="cm"]').check();
      assert.equal(await page.locator("#f-gauge-round-over").inputValue(), "10.16");
      assert.equal(await page.locator("#f-gauge-flat-over").inputValue(), "10.16");
    }));
});

describe("sizes", () => {
  test("twelve sizes: tabs by keyboard, all sizes side by side, the command's bytes", () =>
    onPage(async (page) => {
      await page.locator("#open-file").setInputFiles(join(root, "tests/data/check/twelve.toml"));
      await worked(page, /turn pairs/);
      const tabs = page.getByRole("tab");
      await tabs.nth(12).waitFor();
      assert.equal(await tabs.count(), 13);
      await tabs.first().focus();
      await page.keyboard.press("ArrowRight");
      assert.equal(await page.locator('[role="tab"][aria-selected="true"]').textContent().then((text) => text.trim().split(" ")[0]), "2");
      await page.locator("#pattern-text").filter({ hasText: /size 2/i }).waitFor();
      const one = await file(page, "txt");
      await page.keyboard.press("Tab");
      await tabs.last().click();
      await worked(page, /12 sizes worked out/);
      assert.equal(await page.locator("#r-numbers tbody tr").count(), 12);
      const all = await file(page, "txt");
      const toml = await file(page, "toml");
      await inFolder((folder) => {
        const path = join(folder, "case.toml");
        writeFileSync(path, toml.text);
        assert.equal(one.text, capwright("convert", path, "--size", "2"));
        assert.equal(all.text, capwright("convert", path));
        assert.equal(all.text, capwright("convert", join(root, "tests/data/check/twelve.toml")), "opened and unchanged");
      });
    }));

  test("our cases, opened and unchanged, give the command's bytes", () =>
    onPage(async (page) => {
      for (const [place, name] of ["tern-harbour", "quillam-cardigan", "tern-wider-arm", "heron-topdown", "gannet-saddle", "skua-stripes", "dunlin-texture", "saddle-lesson"].entries()) {
        const title = /^title = "(.*)"$/m.exec(readFileSync(join(root, `cases/${name}.toml`), "utf8"))[1];
        await page.locator("#our-cases").selectOption(String(place));
        await page.locator("#pattern-text").filter({ hasText: new RegExp(`^${title}`) }).waitFor();
        const last = page.getByRole("tab").last();
        if (await last.isVisible()) {
          await last.click();
          await worked(page, /sizes worked out/);
        }
        const text = await file(page, "txt");
        assert.equal(text.text, capwright("convert", `cases/${name}.toml`), name);
      }
    }));

  test("a stitch pattern typed anew: its faults at its fields, its charts beside, the same case in the file", () =>
    onPage(async (page) => {
      await page.locator("#our-cases").selectOption("4");
      await worked(page, /turn pairs/);
      await page.locator("#stitch-by-rows").check();
      const rows = page.locator("#f-stitch-rows");
      const wrong = page.locator('[data-path="stitch.rows"] > .wrong');
      await rows.fill("kkp\nkp");
      await wrong.filter({ hasText: "Row 2 of the stitch pattern has 3 stitches, row 1 has 2." }).waitFor();
      await page.locator(".wrong-length", { hasText: "Row 2: 3 sts, not 2" }).waitFor();
      await rows.fill("pk\nkp");
      await worked(page, /turn pairs/);
      assert.equal(await wrong.innerText(), "");
      await page.locator("#add-panel").click();
      await page.locator("#f-stitch-panels-1-rows").fill("k".repeat(24));
      await page.locator('[data-path="stitch.panels.1"] > .wrong').filter({ hasText: "24 sts wide, but the saddle has 20 live sts" }).waitFor();
      const name = page.locator("#f-stitch-panels-1-name");
      await name.fill("cable");
      await page.locator("#f-stitch-panels-1-name-own").filter({ hasText: "Another panel is called" }).waitFor();
      await name.fill("rope.x");
      await page.locator("#remove-0").click();
      await page.locator("#f-stitch-panels-1-rows").fill("p*kk*p".replaceAll("*", "="));
      await page.locator("#f-stitch-legend").fill("= = knit tbl");
      await worked(page, /turn pairs/);
      await page.locator("#r-charts [data-figure=cap-chart]").waitFor();
      // Every chart saves itself, whatever its kind.
      for (const name of ["repeat-chart", "repeat-chart-2", "chart-piece-2"]) {
        const chart = page.locator(`#r-charts [data-figure="${name}"]`);
        const svg = await saved(page, () => chart.getByRole("button", { name: "Save as SVG" }).click());
        assert.match(svg.name, new RegExp(`-${name}\\.svg$`));
        assert.ok(svg.text.includes(await chart.locator("svg > title").first().textContent()), name);
      }
      const toml = await file(page, "toml");
      assert.match(toml.text, /rows = """\npk\nkp"""/);
      assert.match(toml.text, /legend = \{ "=" = "knit tbl" \}/);
      assert.match(toml.text, /panels = \{ "rope\.x" = \{/);
      assert.doesNotMatch(toml.text, /cable =|ground =/);
      await page.locator("#on-stripes").check();
      await page.locator("#f-stripes-body").fill("ink 4, chalk two");
      await page.locator('[data-path="stripes.body"] > .wrong').filter({ hasText: "needs colours and their rows" }).waitFor();
      await page.locator("#stitch-by-none").check();
      await page.locator("#on-stripes").uncheck();
      await page.locator("#s-charts").waitFor({ state: "hidden" });
      assert.deepEqual(await violations(page), []);
    }));

  test("another arm is asked for and granted; without a wish the cap is made to meet its armhole", () =>
    onPage(async (page) => {
      await page.locator("#part-adapt > summary").click();
      await page.locator("#on-adapt").check();
      await worked(page, /against the adapted cap/);
      await page.locator("#adapt-arm-finished").check();
      await page.locator("#f-adapt-upper-arm").fill("14.5");
      await worked(page, /upper arm 14\.\d\sin/);
      const toml = await file(page, "toml");
      assert.match(toml.text, /\[adapt\]\n#[^\n]*\nupper_arm = 14\.5\n/);
      await page.locator("#on-adapt").uncheck();
      await worked(page, /against the old cap/);
    }));

  test("a file that is no case leaves the work alone", () =>
    onPage(async (page) => {
      await inFolder(async (folder) => {
        const path = join(folder, "broken.toml");
        writeFileSync(path, "title = \"x\nunits");
        await page.locator("#open-file").setInputFiles(path);
        await page.locator("#notice").filter({ hasText: /not TOML.*untouched/ }).waitFor();
        assert.equal(await page.locator("#f-title").inputValue(), "Tern Harbour pullover");
      });
    }));
});

describe("the other doors", () => {
  test("a backlist: several files side by side, one opened", () =>
    onPage(async (page) => {
      await page.getByRole("button", { name: "I have a backlist" }).click();
      await page.locator("#open-files").setInputFiles(["cases/tern-harbour.toml", "tests/data/check/twelve.toml"].map((name) => join(root, name)));
      await page.locator(".shelf tbody tr").nth(1).filter({ hasText: /knits back/ }).waitFor();
      await page.reload();
      await page.locator(".shelf tbody tr").nth(1).filter({ hasText: /knits back/ }).waitFor();
      await page.getByRole("button", { name: "Open twelve.toml" }).click();
      await worked(page, /turn pairs/);
      await page.getByRole("button", { name: "I have a backlist" }).click();
      await page.getByRole("button", { name: "Take all away" }).click();
      await page.locator("#shelf .empty").waitFor();
      await page.getByRole("button", { name: "I have an old pattern" }).click();
      assert.equal(await page.getByRole("tab").count(), 13);
    }));

  test("a lesson: figures, large type, the sheet equals the command's", () =>
    onPage(async (page) => {
      await page.getByRole("button", { name: "I am teaching this" }).click();
      await page.locator("#lesson .summary").filter({ hasText: /\d\sin/ }).waitFor();
      await page.locator('input[name="units"][value="cm"]').check();
      await page.locator("#lesson .summary").filter({ hasText: /\d\scm/ }).waitFor();
      await page.locator("#lesson .summary").filter({ hasText: /From flat to round: \+7\.5\s%/ }).waitFor();
      const size = () => page.evaluate(() => parseFloat(getComputedStyle(document.documentElement).fontSize));
      const before = await size();
      await page.locator("#type-wall").check();
      assert.ok((await size()) > before * 1.3);
      const sheet = await saved(page, () => page.getByRole("button", { name: "Save as text" }).click());
      assert.equal(sheet.text, capwright("drift", "cases/saddle-lesson.toml", "--exercise"));
    }));
});

// How a browser writes its tree out says nothing of the page: empty attributes, widths set by script. The form is never sent.
const ASIDE = ["attribute-boolean-style", "attribute-empty-style", "no-inline-style", "wcag/h32"];

describe("everyone", () => {
  test("valid HTML behind every door", () =>
    onPage(async (page) => {
      const rules = Object.fromEntries(ASIDE.map((rule) => [rule, "off"]));
      const validator = new HtmlValidate({ extends: ["html-validate:recommended"], rules });
      for (const door of ["I have an old pattern", "I have a backlist", "I am teaching this"]) {
        await page.getByRole("button", { name: door }).click();
        if (door.includes("teaching")) await page.locator("#sheet pre").first().waitFor();
        const report = await validator.validateString(await page.content());
        assert.deepEqual(
          report.results.flatMap((result) => result.messages.map((one) => `${one.ruleId}: ${one.message} ${one.selector}`)),
          [],
          door,
        );
      }
    }));

  test("the keyboard alone fills in, chooses a door and saves", () =>
    onPage(async (page) => {
      await page.keyboard.press("Tab");
      assert.equal(await page.evaluate(() => document.activeElement.textContent), "To the work");
      await page.keyboard.press("Tab");
      assert.equal(await page.evaluate(() => document.activeElement.textContent), "To the new cap");
      await page.keyboard.press("Tab");
      assert.equal(await page.evaluate(() => document.activeElement.textContent), "To the pattern");
      await page.keyboard.press("Enter");
      assert.equal(await page.evaluate(() => document.activeElement.id), "s-pattern");
      const reach = async (id, most = 400) => {
        if (id === "#f-title") await page.locator("h1").click();
        for (let i = 0; i < most; i += 1) {
          if (await page.evaluate((wanted) => document.activeElement?.matches(wanted), id)) return;
          await page.keyboard.press("Tab");
        }
        assert.fail(`${id} cannot be reached`);
      };
      await reach("#f-title");
      await page.keyboard.press("Control+a");
      await page.keyboard.type("By keys");
      await reach('[data-file="txt"]');
      await page.locator("#pattern-text").filter({ hasText: /^By keys/ }).waitFor();
      const text = await saved(page, () => page.keyboard.press("Enter"));
      assert.match(text.text, /^By keys/);
    }));

  for (const colorScheme of ["light", "dark"]) {
    test(`no serious barrier, ${colorScheme}`, () =>
      onPage(
        async (page) => {
          assert.deepEqual(await violations(page), []);
          await page.locator("#f-armhole-edge").fill("2");
          await page.locator("#f-sleeve-cap").fill("Bind off 5 sts at beg of next 2 rows (65 sts). Frobnicate.");
          await worked(page, /Not worked out/);
          assert.deepEqual(await violations(page), []);
          for (const door of ["I have a backlist", "I am teaching this"]) {
            await page.getByRole("button", { name: door }).click();
            const ours = page.getByRole("button", { name: "Add our cases" });
            if (await ours.isVisible()) {
              await ours.click();
              await page.locator(".shelf tbody tr").nth(2).filter({ hasText: /knits back/ }).waitFor();
            } else await page.locator("#sheet pre").first().waitFor();
            assert.deepEqual(await violations(page), [], door);
          }
        },
        { colorScheme },
      ));
  }

  test("no sideways scroll on a telephone, nor at 200 per cent", async () => {
    for (const viewport of [
      { width: 360, height: 740 },
      { width: 640, height: 450 },
    ]) {
      await onPage(
        async (page) => {
          assert.equal(await sidewaysScroll(page), 0);
          await page.locator("#our-cases").selectOption("1");
          await worked(page, /turn pairs/);
          for (const place of ["new", "knit", "old"]) {
            await page.locator(`#places [data-place="${place}"]`).click();
            assert.equal(await sidewaysScroll(page), 0, place);
          }
          for (const door of ["I have a backlist", "I am teaching this"]) {
            await page.getByRole("button", { name: door }).click();
            const ours = page.getByRole("button", { name: "Add our cases" });
            if (await ours.isVisible()) await ours.click();
            else await page.locator("#sheet pre").first().waitFor();
            assert.equal(await sidewaysScroll(page), 0, `${door} at ${viewport.width}`);
          }
        },
        { viewport },
      );
    }
  });
});
