// The page: three doors to the same work.
import { ask } from "./ask.js";
import { backlist } from "./backlist.js";
import { choices, fill, h, keepingFocus, notice } from "./dom.js";
import { place } from "./fields.js";
import { build, update } from "./form.js";
import { showLines } from "./lines.js";
import { frame, showResult, showTabs } from "./result.js";
import { starts } from "./save.js";
import { begin, canRedo, canUndo, forgetSteps, listen, load, recall, redo, setAside, show, sizeLabels, state, toCase, told, undo } from "./state.js";
import { teach } from "./teach.js";
import { switchTo } from "./units.js";

const byId = (id) => document.getElementById(id);
const DOORS = ["pattern", "backlist", "teach"];
let timer;
let levels = new Map();

function tools() {
  fill(
    byId("tools"),
    h("button", { type: "button", id: "undo", disabled: !canUndo(), onclick: undo }, "Undo"),
    h("button", { type: "button", id: "redo", disabled: !canRedo(), onclick: redo }, "Redo"),
    choices(
      "Units",
      "units",
      [
        ["cm", "cm"],
        ["in", "in"],
      ],
      state.values.units ?? "cm",
      switchTo,
    ),
  );
}

function doors() {
  for (const button of document.querySelectorAll("[data-door]")) {
    if (button.dataset.door === state.door) button.setAttribute("aria-current", "page");
    else button.removeAttribute("aria-current");
  }
  for (const door of DOORS) byId(`door-${door}`).hidden = door !== state.door;
  byId("peek").hidden = state.door !== "pattern";
}

/** What is sent: the case, and the size that is looked at. */
function question() {
  const many = sizeLabels().length > 1;
  if (state.size >= sizeLabels().length) state.size = 0;
  return { case: toCase(), size: many && state.size !== -1 ? state.size : null };
}

async function work() {
  const sent = question();
  const convert = ask("convert", sent);
  const check = sizeLabels().length > 1 ? ask("check", { case: sent.case }) : Promise.resolve(null);
  const slow = setTimeout(() => byId("result").classList.add("busy"), 400);
  const answer = await convert;
  clearTimeout(slow);
  if (answer) byId("result").classList.remove("busy");
  if (answer?.error) {
    notice(answer.error);
  } else if (answer) {
    notice("");
    showLines(answer.lines);
    const left = place(byId("form"), answer.case_findings);
    showResult(answer, left);
  }
  const all = await check;
  if (!all || all.error) return;
  levels = worst(all.findings);
  showTabs(levels);
}

/** The worst level found for each size. */
function worst(findings) {
  const rank = ["note", "warning", "error"];
  const levels = new Map();
  for (const finding of findings) {
    if (finding.size && rank.indexOf(finding.level) > rank.indexOf(levels.get(finding.size) ?? "")) levels.set(finding.size, finding.level);
  }
  return levels;
}

function soon() {
  clearTimeout(timer);
  if (state.door === "pattern") timer = setTimeout(work, 80);
}

function onChange(what) {
  if (what === "door") {
    doors();
    enter();
    return;
  }
  if (what === "form") keepingFocus(() => build(byId("form")));
  else if (what === "value") update(byId("form"));
  keepingFocus(tools);
  byId("guest").hidden = !state.guest;
  showTabs(levels);
  if (state.door === "teach") teach(byId("door-teach"), what);
  soon();
}

function enter() {
  if (state.door === "pattern") soon();
  if (state.door === "backlist") backlist(byId("door-backlist"));
  if (state.door === "teach") teach(byId("door-teach"), "door");
}

function keys(event) {
  if (!(event.ctrlKey || event.metaKey) || event.altKey) return;
  const key = event.key.toLowerCase();
  if (key === "z" && !event.shiftKey) {
    event.preventDefault();
    undo();
  } else if (key === "y" || (key === "z" && event.shiftKey)) {
    event.preventDefault();
    redo();
  }
}

async function start() {
  let told;
  try {
    told = await (await fetch("api/start")).json();
  } catch {
    notice("The workbench does not answer. Start it again with \u201ccapwright workbench\u201d and reload this page; what you typed is kept.");
    return;
  }
  begin(told);
  const known = recall();
  fill(
    byId("door-pattern"),
    h(
      "div",
      { className: "side" },
      h("div", { id: "starts", className: "starts" }),
      h("p", { id: "guest", className: "guest", hidden: true }, "This is an example of ours, so that you see how it goes. Type your own pattern over it, or start empty."),
      h("form", { id: "form", autocomplete: "off", onsubmit: (event) => event.preventDefault() }),
    ),
    h("section", { id: "result", className: "result", "aria-label": "The new cap" }),
  );
  starts(byId("starts"));
  frame(byId("result"));
  if (!known) {
    load(told.cases[0], "ours");
    forgetSteps();
    state.guest = true;
  }
  byId("guest").hidden = !state.guest;
  build(byId("form"));
  tools();
  showTabs(levels);
  listen(onChange);
  for (const button of document.querySelectorAll("[data-door]")) {
    button.addEventListener("click", () => show(() => void (state.door = button.dataset.door), "door"));
  }
  document.addEventListener("keydown", keys);
  addEventListener("afterprint", () => delete document.body.dataset.print);
  document.documentElement.classList.toggle("big", state.big);
  doors();
  enter();
}

start().catch((error) => {
  console.error(error);
  // Work kept by another version must not lock the page for good.
  if (setAside()) location.reload();
});
