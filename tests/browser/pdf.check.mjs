// The PDF pages, read with poppler's pdftotext: the pattern's words are there in their order, run tables are whole, the
// exercise is a page of questions and a page of answers.
import assert from "node:assert/strict";
import { execFileSync } from "node:child_process";
import { readFileSync } from "node:fs";
import { join } from "node:path";
import { test } from "node:test";
import { capwright, inFolder, pdfPages, plain } from "./lib.mjs";

/** A step as it stands in a table: `A. 3 pairs: ... 6 31 18`; or as it is where its counts need words. */
function asPrinted(step) {
  if (step === step.toUpperCase()) return step[0] + step.slice(1).toLowerCase(); // a heading
  const counted = /^(.*) \[(.*)\]$/.exec(step);
  if (!counted || counted[2].includes("turn pair") || step.startsWith("Round 1")) return step;
  const numbers = /fewer|more/.test(counted[2]) ? counted[2].replace(/ sts/, "") : counted[2].match(/\d+/g).join(" ");
  return `${counted[1]} ${numbers}`;
}

const cases = [
  ["cases/tern-harbour.toml"],
  ["cases/saddle-lesson.toml", "--paper", "letter"],
  ["cases/quillam-cardigan.toml"],
  ["cases/quillam-cardigan.toml", "--size", "91 cm", "--paper", "letter"],
];

for (const [index, command] of cases.entries()) {
  test(`convert ${command.join(" ")}`, () =>
    inFolder((folder) => {
      const [pdf, json] = [join(folder, `${index}.pdf`), join(folder, `${index}.json`)];
      capwright("convert", ...command, "-o", pdf, "-o", json);
      const size = execFileSync("pdfinfo", [pdf], { encoding: "utf8", stdio: ["ignore", "pipe", "ignore"] });
      // ISO 216 and ANSI A, in points.
      assert.match(size, command.includes("letter") ? /612 x 792/ : /595\.\d+ x 841\.\d+/);
      const read = pdfPages(pdf);
      const all = read.join(" ");
      let steps = 0;
      for (const { sleeves } of JSON.parse(readFileSync(json, "utf8")).sizes) {
        for (const { instructions } of sleeves) {
          for (const step of instructions) {
            assert.ok(all.includes(plain(asPrinted(step))), `not on any page: ${asPrinted(step)}`);
            steps += 1;
          }
          // Lettered steps and the first rows are one run table.
          const runs = instructions.filter((step) => /^([A-Z]+\. |Row \d)/.test(step)).map((step) => plain(asPrinted(step)));
          assert.ok(runs.length > 2);
          assert.ok(read.some((page) => runs.every((run) => page.includes(run))), `a run table is split: ${runs[0]}`);
        }
      }
      assert.ok(steps > 15);
      read.forEach((page, at) => assert.ok(page.endsWith(`page ${at + 1} of ${read.length}`), `page ${at + 1} has no number`));
    }),
  );
}

test("drift --exercise", () =>
  inFolder((folder) => {
    for (const paper of ["a4", "letter"]) {
      const pdf = join(folder, `${paper}.pdf`);
      capwright("drift", "cases/saddle-lesson.toml", "--exercise", "--paper", paper, "-o", pdf);
      const { exercises } = JSON.parse(capwright("drift", "cases/saddle-lesson.toml", "--exercise", "--format", "json"));
      const [questions, answers, ...more] = pdfPages(pdf);
      assert.equal(more.length, 0);
      for (const { question, answer } of exercises) {
        assert.ok(questions.includes(plain(question)), question);
        assert.ok(answers.includes(plain(answer)), answer);
      }
    }
  }));
