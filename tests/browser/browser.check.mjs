// The tools themselves: the binary answers, and the accessibility engine sees a fault where there is one.
import assert from "node:assert/strict";
import { after, before, test } from "node:test";
import { capwright, sidewaysScroll, startBrowser, violations } from "./lib.mjs";

let browser;
before(async () => {
  browser = await startBrowser();
});
after(() => browser?.close());

test("the binary answers", () => {
  assert.match(capwright("--version"), /^capwright \d/);
});

test("faults are seen", async () => {
  const page = await browser.newPage({ viewport: { width: 360, height: 640 } });
  await page.setContent('<html lang="en"><title>x</title><main><h1>x</h1><p style="color:#aaa;background:#fff;width:500px">pale</p></main></html>');
  const found = await violations(page);
  assert.ok(found.some((line) => line.includes("color-contrast")), found.join("\n"));
  assert.ok((await sidewaysScroll(page)) > 0);
  await page.close();
});
