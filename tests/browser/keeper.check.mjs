// The row keeper in a real browser: one step at a time, by button, bar and keys, its place kept over a reload.
import assert from "node:assert/strict";
import { spawn } from "node:child_process";
import { after, before, test } from "node:test";
import { binary, capwright, sidewaysScroll, startBrowser, violations } from "./lib.mjs";

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

/** Calls `use` with a page on which one of our cases is open and the keeper is begun. */
async function keeping(use, { width = 800, height = 900, which = "Tern Harbour pullover", button = "#keep-both", ...options } = {}) {
  const context = await browser.newContext({ viewport: { width, height }, reducedMotion: "reduce", ...options });
  const page = await context.newPage();
  const faults = [];
  page.on("pageerror", (error) => faults.push(error.message));
  page.on("console", (message) => message.type() === "error" && faults.push(message.text()));
  try {
    await page.goto(address);
    await page.locator("#our-cases").selectOption({ label: which });
    await page.locator("#r-summary").filter({ hasText: /turn pairs/ }).waitFor({ state: "attached" });
    if (width < 1000) await page.locator('#places [data-place="knit"]').click();
    await page.locator(button).click();
    await page.locator("#keeper[open]").waitFor();
    await use(page, context);
    assert.deepEqual(faults, []);
  } finally {
    await context.close();
  }
}

const where = (page) => page.locator("#keeper-where").textContent();
const at = (page) => page.locator("#keeper .at").textContent();

/** Goes on until this row. */
async function onTo(page, row) {
  for (let n = 0; n < 400 && !(await at(page)).startsWith(row); n += 1) await page.keyboard.press("PageDown");
  assert.ok((await at(page)).startsWith(row));
}

test("button, bar, arrows and page keys go on and back, a held key once", () =>
  keeping(async (page) => {
    assert.match(await where(page), /^Step 1 of \d+/);
    // As a pedal does it: the first press, with nothing touched before.
    assert.equal(await page.evaluate(() => document.activeElement.id), "keeper-next");
    await page.keyboard.press(" ");
    assert.match(await where(page), /^Step 2 of/);
    await page.keyboard.press("ArrowLeft");
    await page.locator("#keeper-next").click();
    assert.match(await where(page), /^Step 2 of/);
    for (const [key, expected] of [[" ", 3], ["ArrowRight", 4], ["ArrowDown", 5], ["PageDown", 6], ["ArrowLeft", 5], ["PageUp", 4], ["ArrowUp", 3], ["Backspace", 2]]) {
      await page.keyboard.press(key);
      assert.match(await where(page), new RegExp(`^Step ${expected} of`), key);
    }
    await page.keyboard.down("PageDown");
    await page.keyboard.down("PageDown");
    await page.keyboard.down("PageDown");
    await page.keyboard.up("PageDown");
    assert.match(await where(page), /^Step 3 of/);
    // The bar on another button is that button's.
    await page.locator("#keeper-back").focus();
    await page.keyboard.press(" ");
    await page.keyboard.press(" ");
    assert.match(await where(page), /^Step 1 of/);
    assert.equal(await page.locator("#keeper-back").isDisabled(), true);
    assert.equal(await page.evaluate(() => document.activeElement.id), "keeper-next");
  }));

test("every row of the cap comes once, with its side and the counts of the checklist", () =>
  keeping(async (page) => {
    const rows = capwright("convert", "cases/tern-harbour.toml", "--checklist", "csv").trim().split(/\r?\n/).slice(1);
    await onTo(page, "Row 1 ");
    for (const row of rows.slice(0, -1)) {
      const [, , , number, side] = row.split(",");
      // The turn is quoted: it has a comma of its own.
      const [, after] = row.split('",');
      assert.match(await at(page), new RegExp(`^Row ${number} ${side}`));
      const [worked] = after.split(",");
      assert.match(await page.locator("#keeper .then").first().textContent(), new RegExp(`^Then: ${worked} worked`));
      await page.keyboard.press("PageDown");
    }
    assert.match(await at(page), new RegExp(`^Row ${rows.length} RS`));
  }));

test("place, note and what is open are kept over a reload", () =>
  keeping(async (page) => {
    await onTo(page, "Row 8 ");
    await page.locator("#keeper-note").fill("the blue marker");
    await page.keyboard.press(" ");
    assert.equal(await page.locator("#keeper-note").inputValue(), "the blue marker ", "a space in a note is a space");
    const step = await where(page);
    await page.waitForTimeout(300);
    await page.reload();
    await page.locator("#keeper[open]").waitFor();
    assert.equal(await where(page), step);
    assert.match(await at(page), /^Row 8 /);
    assert.equal(await page.locator("#keeper-note").inputValue(), "the blue marker ");
    await page.locator("#keeper-next").click();
    assert.equal(await page.locator("#keeper-note").inputValue(), "");
    await page.keyboard.press("Escape");
    assert.equal(await page.locator("#keeper[open]").count(), 0);
    assert.equal(await page.evaluate(() => document.activeElement.id), "keep-both");
    await page.reload();
    await page.locator("#keep-both").waitFor();
    assert.equal(await page.locator("#keeper[open]").count(), 0);
    await page.locator("#keep-both").click();
    assert.match(await at(page), /^Row 9 /);
  }));

test("a measure is judged against the row one is on", () =>
  keeping(async (page) => {
    await onTo(page, "Row 10 ");
    // Eleven rows at 30.5 to 4 in; 2 % of a single count and 3 mm of the tape.
    const [depth, off] = ["1.44", "0.15"];
    const says = page.locator("#keeper-says");
    await page.locator("#keeper-depth").fill(depth);
    assert.match(await says.textContent(), /nothing to worry about\.$/);
    await page.locator("#keeper-depth").fill(String(Number(depth) + 3 * Number(off)));
    assert.match(await says.textContent(), /deeper than planned; up to/);
    await page.locator("#keeper-depth").fill("a span");
    assert.match(await says.textContent(), /no length/);
    await page.locator("#keeper-tell").click();
    assert.match(await says.textContent(), /no length/);
    await page.locator("#keeper-depth").fill(String(Number(depth) + 3 * Number(off)));
    await page.locator("#keeper-tell").click();
    assert.match(await says.textContent(), /On the needles already/);
    await page.locator("#keeper-close").click();
    // The picked-up row is fabric: ten rows are eleven.
    await page.locator("#r-findings").filter({ hasText: /11 rows of the work measure/ }).waitFor({ state: "attached" });
    assert.equal(await page.locator("#f-so-far-rows").inputValue(), "10");
  }));

test("sleeves that differ have each their own place", () =>
  keeping(
    async (page) => {
      await onTo(page, "Row 1 ");
      await page.locator("#keeper-close").click();
      await page.locator("#keep-right").click();
      assert.match(await where(page), /^Step 1 of \d+, right sleeve/);
    },
    { which: "Quillam cardigan", button: "#keep-left" },
  ));

for (const [width, height] of [[360, 640], [800, 1000], [1400, 900]]) {
  for (const colorScheme of ["light", "dark"]) {
    test(`at ${width} pixels, ${colorScheme}: large, whole, and nothing sideways`, () =>
      keeping(
        async (page) => {
          for (const row of ["Row 1 ", "Row 14 ", "Round 20 "]) {
            await onTo(page, row);
            assert.deepEqual(await violations(page), []);
            assert.equal(await sidewaysScroll(page), 0);
            const next = await page.locator("#keeper-next").boundingBox();
            assert.ok(next.height >= 64 && next.width >= width / 2, "a big button");
            assert.ok(next.y + next.height <= height, "in sight");
            const letters = await page.locator("#keeper .do").evaluate((element) => parseFloat(getComputedStyle(element).fontSize));
            assert.ok(letters >= 20, `${letters} pixels`);
            if (process.env.SHOTS) await page.screenshot({ path: `${process.env.SHOTS}/keeper-${width}-${colorScheme}-${row.trim().replace(" ", "")}.png` });
          }
        },
        { width, height, colorScheme },
      ));
  }
}

test("a body that was counted is typed in, and its counts stand beside a tape's measures", async () => {
  const context = await browser.newContext({ viewport: { width: 1400, height: 900 }, reducedMotion: "reduce" });
  const page = await context.newPage();
  const faults = [];
  page.on("pageerror", (error) => faults.push(error.message));
  try {
    await page.goto(address);
    await page.locator("#our-cases").selectOption({ label: "Tern Harbour pullover" });
    await page.locator("#r-summary").filter({ hasText: /turn pairs/ }).waitFor();
    await page.locator("#armhole-by-counts").check();
    await page.locator("#f-armhole-rows").fill("53");
    await page.locator("#f-armhole-bound-off").fill("4");
    await page.locator("#r-summary").filter({ hasText: /turn pairs/ }).waitFor();
    // What the case had measured is held against the counts.
    await page.locator("#r-findings").filter({ hasText: /53 counted rows/ }).waitFor();
    await page.locator("#knitting").filter({ hasText: /53 rows/ }).waitFor();
    assert.deepEqual(await violations(page), []);
    await page.locator("#armhole-by-measures").check();
    await page.locator("#knitting").filter({ hasText: /56 rows/ }).waitFor();
    assert.deepEqual(faults, []);
  } finally {
    await context.close();
  }
});
