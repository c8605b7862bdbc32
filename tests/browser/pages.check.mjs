// The worksheets and the exercise sheet: valid HTML, no accessibility fault in light or dark, nothing wider than a phone.
import assert from "node:assert/strict";
import { join } from "node:path";
import { after, before, test } from "node:test";
import { pathToFileURL } from "node:url";
import { HtmlValidate } from "html-validate";
import { capwright, inFolder, sidewaysScroll, startBrowser, violations } from "./lib.mjs";

// The page of ten sizes is long and has nothing that the page of one lacks but the first chapter: it is looked at once.
const once = "quillam-cardigan.html";

const pages = [
  ["tern-harbour.html", "convert", "cases/tern-harbour.toml"],
  ["saddle-lesson.html", "convert", "cases/saddle-lesson.toml"],
  [once, "convert", "cases/quillam-cardigan.toml"],
  ["quillam-91.html", "convert", "cases/quillam-cardigan.toml", "--size", "91 cm"],
  ["lesson.html", "drift", "cases/saddle-lesson.toml"],
  ["class.html", "drift", "cases/saddle-lesson.toml", "--exercise"],
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
      capwright(...command, "-o", file);

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
        await page.close();
      }
    }),
  );
}
