// "I have a backlist": several case files at once, side by side, each a click away.
import { ask, keepFile } from "./ask.js";
import { send } from "./carrier.js";
import { fill, h, notice, say, wide } from "./dom.js";
import { merged } from "./lines.js";
import { byLevel, finding } from "./result.js";
import { formOf, saveOf } from "./save.js";
import { sideBySide } from "./shelf.js";
import { load, show as change, state, toCase, told } from "./state.js";

const MOST = 200;
const results = new Map();

export function backlist(root) {
  const input = h("input", { type: "file", id: "open-files", className: "unseen", accept: ".toml,.html,.htm", multiple: true, onchange: () => add([...input.files]) });
  fill(
    root,
    h("h2", {}, "Backlist"),
    h("p", {}, "Open as many saved cases as you like; they stay in this browser. Each is read, checked and converted on this machine, and shown with what was found."),
    h(
      "p",
      { className: "row-of-buttons" },
      h("label", { htmlFor: "open-files", className: "button" }, "Open case files"),
      input,
      h("button", { type: "button", onclick: () => keep(told().cases.map((form) => ({ name: form.title, form }))) }, "Add our cases"),
      h("button", { type: "button", onclick: () => keep([{ name: String(state.values.title || "Untitled"), form: toCase() }]) }, "Add the sleeve I am working on"),
      h("button", { type: "button", id: "clear", onclick: clear }, "Take all away"),
      h("button", { type: "button", id: "save-all", onclick: saveAll }, "Save all patterns as one text"),
    ),
    h("p", {}, h("label", {}, h("input", { type: "checkbox", id: "worst-first", checked: state.worstFirst, onchange: (event) => { change(() => void (state.worstFirst = event.target.checked), "backlist"); draw(); } }), " What needs a look first")),
    h("div", { id: "shelf" }),
  );
  draw();
  work();
}

/** The patterns of all cases that could be converted, one after the other, in one file. */
async function saveAll() {
  const texts = [];
  const failed = [];
  const text = new TextDecoder();
  for (const file of state.backlist) {
    try {
      const { status, bytes } = await send("file", { case: file.form, kind: "txt" });
      if (status === 200) texts.push(text.decode(bytes));
      else failed.push(file.name);
    } catch {
      failed.push(file.name);
    }
  }
  if (texts.length) keepFile("patterns.txt", new Blob([texts.join("\n\f\n")], { type: "text/plain" }));
  notice(failed.length ? `Left out, because they cannot be converted: ${failed.join(", ")}.` : "");
  if (texts.length) say(`${texts.length} patterns were saved.`);
}

function clear() {
  change(() => void (state.backlist = []), "backlist");
  results.clear();
  draw();
}

async function add(files) {
  const read = await Promise.all(files.map(async (file) => ({ name: file.name, ...(await formOf(file)) })));
  const failed = read.filter((file) => file.error).map((file) => file.error);
  keep(read.filter((file) => file.form));
  notice(failed.join(" "));
}

function keep(files) {
  const room = MOST - state.backlist.length;
  if (files.length > room) notice(`The shelf holds ${MOST} cases; ${files.length - room} were left out.`);
  change(() => {
    for (const file of files.slice(0, room)) {
      const known = state.backlist.findIndex((other) => other.name === file.name);
      if (known === -1) state.backlist.push(file);
      else {
        state.backlist[known] = file;
        results.delete(file.name);
      }
    }
  }, "backlist");
  draw();
  work();
}

/** One after the other: a shelf of twelve sizes each is minutes of work for nobody. */
async function work() {
  for (const file of [...state.backlist]) {
    if (results.has(file.name) || !state.backlist.includes(file)) continue;
    const answer = await ask("convert", { case: file.form, brief: true }, "shelf");
    if (!answer) return;
    results.set(file.name, answer);
    draw();
  }
  if (state.backlist.length) say(`${state.backlist.length} cases are worked out.`);
}

const counts = (answer) => {
  const all = merged([...(answer.case_findings ?? []), ...(answer.findings ?? [])]);
  const count = (level) => all.filter((one) => one.level === level).length;
  return [count("error"), count("warning"), count("note")];
};

function draw() {
  const root = document.getElementById("shelf");
  if (!root) return;
  for (const id of ["clear", "save-all"]) document.getElementById(id).disabled = state.backlist.length === 0;
  if (state.backlist.length === 0) {
    fill(root, h("p", { className: "empty" }, "Nothing is open yet."));
    return;
  }
  const open = new Set([...root.querySelectorAll("details[open]")].map((details) => details.id));
  fill(
    root,
    wide(
      "Cases",
      h(
        "table",
        { className: "shelf" },
        h("thead", {}, h("tr", {}, ["Case", "Sizes", "Errors", "To look at", "Notes", "Result", ""].map((name) => h("th", { scope: "col" }, name || h("span", { className: "unseen" }, "Actions"))))),
        h("tbody", {}, inOrder().map((file) => row(file, results.get(file.name)))),
      ),
    ),
    sideBySide(inOrder().flatMap((file) => (results.get(file.name)?.conversion ? [{ name: file.name, answer: results.get(file.name) }] : []))),
    inOrder().map((file, place) => details(file, results.get(file.name), place)),
  );
  for (const id of open) document.getElementById(id)?.setAttribute("open", "");
}

/** The cases as they were opened, or those with errors and warnings first. */
function inOrder() {
  if (!state.worstFirst) return state.backlist;
  const weight = (file) => {
    const answer = results.get(file.name);
    if (!answer) return 0;
    const [errors, warnings] = counts(answer);
    return 1000 * (errors + (answer.conversion ? 0 : 1)) + warnings;
  };
  return [...state.backlist].sort((a, b) => weight(b) - weight(a));
}

function row(file, answer) {
  const [errors, warnings, notes] = answer ? counts(answer) : ["", "", ""];
  const result = !answer ? "working\u2026" : answer.error ?? (answer.conversion ? "converts, knits back" : "cannot be converted");
  return h(
    "tr",
    { className: errors ? "error" : "" },
    h("th", { scope: "row" }, file.name),
    h("td", {}, answer?.sizes ? String(answer.sizes.length) : ""),
    h("td", {}, String(errors)),
    h("td", {}, String(warnings)),
    h("td", {}, String(notes)),
    h("td", {}, result),
    h("td", {}, h("button", { type: "button", "aria-label": `Open ${file.name}`, onclick: () => take(file) }, "Open"), " ", h("button", { type: "button", className: "quiet", "aria-label": `Take away ${file.name}`, onclick: () => drop(file) }, "Take away")),
  );
}

function take(file) {
  load(file.form);
  change(() => void (state.door = "pattern"), "door");
}

function drop(file) {
  change(() => void (state.backlist = state.backlist.filter((other) => other !== file)), "backlist");
  results.delete(file.name);
  draw();
}

function details(file, answer, place) {
  if (!answer) return null;
  const all = merged([...(answer.case_findings ?? []), ...(answer.findings ?? [])]).sort(byLevel);
  return h(
    "details",
    { id: `case-${place}`, className: "part" },
    h("summary", {}, h("h3", {}, file.name)),
    h(
      "div",
      { className: "body" },
      answer.conversion && answer.conversion.sizes.length > 1 && h("p", { className: "row-of-buttons" }, [["together", "Text of all sizes together"], ["grading", "Grading"], ["grading-csv", "Grading (CSV)"]].map(([kind, words]) => h("button", { type: "button", onclick: () => saveOf({ case: file.form, size: null, kind }) }, words))),
      h("ul", { className: "findings" }, all.map(finding)),
      all.length === 0 && h("p", {}, "Nothing was found."),
    ),
  );
}
