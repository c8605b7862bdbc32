// The worksheets, the lesson and the exercise sheet: valid HTML, no accessibility fault in light or dark, nothing wider than a
// phone; printed on A4 and letter no table of runs is split.
import assert from "node:assert/strict";
import { dirname, join } from "node:path";
import { after, before, test } from "node:test";
import { pathToFileURL } from "node:url";
import { HtmlValidate } from "html-validate";
import { capwright, inFolder, pdfPages, plain, sidewaysScroll, startBrowser, violations } from "./lib.mjs";

// The page of ten sizes is long and has nothing that the page of one lacks but the first chapter: it is looked at once.
const once = "quillam-cardigan.html";

const pages = [
  ["tern-harbour.html", "convert", "cases/tern-harbour.toml"],
  ["saddle-lesson.html", "convert", "cases/saddle-lesson.toml"],
  [once, "convert", "cases/quillam-cardigan.toml"],
  ["quillam-91.html", "convert", "cases/quillam-cardigan.toml", "--size", "91 cm"],
  ["lesson.html", "drift", "cases/saddle-lesson.toml"],
  ["class.html", "drift", "cases/saddle-lesson.toml", "--exercise"],
  // The page of a batch stands in the folder of its results.
  ["shelf/index.html", "convert", "cases"],
];

let browser;
before(async () => {
  browser = await startBrowser();
});
after(() => browser?.close());

for (const [name, ...command] of pages) {
  test(name, () =>
    inFolder(async (folder) => {
      const file = join(folder, name);
      capwright(...command, "-o", name.endsWith("/index.html") ? dirname(file) : file);

      const report = await new HtmlValidate({ extends: ["html-validate:recommended"] }).validateFile(file);
      const faults = report.results.flatMap((result) => result.messages.map((m) => `${m.line}: ${m.ruleId}: ${m.message}`));
      assert.deepEqual(faults, []);

      for (const colorScheme of name === once ? ["light"] : ["light", "dark"]) {
        const page = await browser.newPage({ colorScheme, viewport: { width: 1280, height: 800 } });
        const asked = [];
        page.on("request", (request) => asked.push(request.url()));
        await page.goto(pathToFileURL(file).href);
        assert.deepEqual(await violations(page), [], colorScheme);
        // A phone, and a laptop at 200 %.
        for (const width of [360, 640]) {
          await page.setViewportSize({ width, height: 740 });
          assert.equal(await sidewaysScroll(page), 0, `${width} pixels`);
        }
        assert.equal(asked.length, 1, `the page fetches ${asked.join(", ")}`);
        if (colorScheme === "light") await printed(page, folder, name);
        await page.close();
      }
    }),
  );
}

test("a worksheet keeps its ticks, and another one has its own", () =>
  inFolder(async (folder) => {
    const files = ["tern-harbour", "tern-wider-arm"].map((name) => {
      const file = join(folder, `${name}.html`);
      capwright("convert", `cases/${name}.toml`, "-o", file);
      return pathToFileURL(file).href;
    });
    const page = await browser.newPage();
    const faults = [];
    page.on("console", (message) => message.type() === "error" && faults.push(message.text()));
    const boxes = page.locator("td.box input");
    await page.goto(files[0]);
    await boxes.nth(1).check();
    await boxes.nth(4).check();
    await page.reload();
    assert.ok(await boxes.nth(1).isChecked() && await boxes.nth(4).isChecked() && !(await boxes.nth(0).isChecked()));
    await page.goto(files[1]);
    assert.ok(!(await boxes.nth(1).isChecked()));
    assert.deepEqual(faults, []);
    await page.close();
    // Without script the boxes can be ticked, and nothing is missing.
    const plainly = await browser.newContext({ javaScriptEnabled: false });
    const quiet = await plainly.newPage();
    await quiet.goto(files[0]);
    await quiet.locator("td.box input").nth(1).check();
    await plainly.close();
  }));

/** The first words of the rows of every table that stays whole. */
function wholeTables(page) {
  return page.$$eval("table.whole", (tables) =>
    tables.map((table) => [...table.tBodies[0].rows].map((row) => row.cells[0].textContent)),
  );
}

async function printed(page, folder, name) {
  for (const format of ["A4", "Letter"]) {
    const file = join(folder, `${format}.pdf`);
    await page.pdf({ path: file, format });
    const pages = pdfPages(file);
    if (name === "class.html") {
      assert.equal(pages.length, 2, "questions and answers");
      assert.ok(!pages[0].includes("Answers") && pages[1].startsWith("Answers"));
    }
    for (const rows of await wholeTables(page)) {
      const together = pages.some((text) => rows.every((row) => text.includes(plain(row))));
      assert.ok(together, `${format}: the table of "${rows[0]}" is split`);
    }
  }
}
