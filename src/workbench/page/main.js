// The page: three doors to the same work.
import { ask } from "./ask.js";
import { backlist } from "./backlist.js";
import { SILENT, start as engine } from "./carrier.js";
import { choices, fill, h, keepingFocus, notice } from "./dom.js";
import { place } from "./fields.js";
import { build, update } from "./form.js";
import { accepted, openAny, panel } from "./leaflet.js";
import { showLines } from "./lines.js";
import { aged, blank, frame, showResult, showTabs } from "./result.js";
import { drop, invitation } from "./invitation.js";
import { starts } from "./save.js";
import { begin, canRedo, canUndo, changedElsewhere, isEmpty, keepMine, keeping, listen, recall, redo, setAside, show, sizeLabels, state, takeTheirs, toCase, undo } from "./state.js";
import { teach } from "./teach.js";
import { switchTo } from "./units.js";

const byId = (id) => document.getElementById(id);
const DOORS = ["pattern", "backlist", "teach"];
let timer;
let levels = new Map();

function tools() {
  fill(
    byId("tools"),
    // They undo changes of the sleeve, so they stand where the sleeve is.
    state.door === "pattern" && [h("button", { type: "button", id: "undo", disabled: !canUndo(), onclick: undo }, "Undo"), h("button", { type: "button", id: "redo", disabled: !canRedo(), onclick: redo }, "Redo")],
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
  places();
}

/** What of the pattern's door is shown: the invitation while there is nothing, else the form and the
 * result; on a narrow page one of three places at a time. */
function places() {
  const fresh = isEmpty();
  byId("invitation").hidden = !fresh;
  byId("start-empty").disabled = fresh;
  byId("side").hidden = fresh;
  byId("result").hidden = fresh;
  byId("places").hidden = fresh || state.door !== "pattern";
  document.body.dataset.place = fresh || state.door !== "pattern" ? "all" : state.place;
  for (const button of document.querySelectorAll("#places button")) {
    if (button.dataset.place === state.place) button.setAttribute("aria-current", "page");
    else button.removeAttribute("aria-current");
  }
}

function goTo(place) {
  show(() => void (state.place = place));
  scrollTo(0, 0);
}

/** Says where the work is kept, and asks which is wanted when another tab has changed it. */
function told() {
  byId("kept").textContent = keeping.now === "no" ? "This browser keeps nothing here when the page is closed: save the case to a file." : "Your work is kept in this browser.";
  if (keeping.now === "no") byId("kept").className = "lost";
  byId("clash").hidden = keeping.now !== "other";
}

const clash = () =>
  h(
    "div",
    { id: "clash", className: "notice", role: "alert", hidden: true },
    h("span", {}, "Another tab of this page has kept other work. Nothing of either is lost; from here on only one can be kept."),
    h("span", { className: "row-of-buttons" }, h("button", { type: "button", onclick: takeTheirs }, "Take the other tab\u2019s"), h("button", { type: "button", onclick: keepMine }, "Keep this one\u2019s")),
  );

/** What is sent: the case, and the size that is looked at. */
function question() {
  const many = sizeLabels().length > 1;
  if (state.size >= sizeLabels().length) state.size = 0;
  return { case: toCase({ tried: true }), size: many && state.size !== -1 ? state.size : null };
}

async function work() {
  if (isEmpty()) return;
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
    // What was found of the pattern on the cap stands at its field, too.
    const ofPattern = answer.findings.filter((finding) => /^(?:stitch|stripes)\b/.test(finding.field ?? ""));
    const left = place(byId("form"), [...answer.case_findings, ...ofPattern]).filter((finding) => !ofPattern.includes(finding));
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
    keepingFocus(tools);
    doors();
    enter();
    return;
  }
  if (what === "loaded") blank();
  if (what === "form" || what === "loaded") keepingFocus(() => build(byId("form")));
  else if (what === "value") update(byId("form"));
  if (what !== "view" && what !== "size") keepingFocus(() => panel(byId("leaflet")));
  keepingFocus(tools);
  places();
  told();
  if (what !== "view" && what !== "size") aged();
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

/** Enter goes to the next answer that is still needed. */
function onEnter(event) {
  if (event.key !== "Enter" || event.target.matches("textarea, button, summary")) return;
  const fields = [...byId("form").querySelectorAll("[data-input]")];
  const later = fields.slice(fields.indexOf(event.target) + 1);
  [...later, ...fields].find((input) => input !== event.target && input.value === "" && input.closest(".needed"))?.focus();
}

function keys(event) {
  if (!(event.ctrlKey || event.metaKey) || event.altKey || state.door !== "pattern") return;
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
  let data;
  try {
    data = await engine();
  } catch (error) {
    notice(/browser/.test(error.message) ? error.message : SILENT);
    return;
  }
  begin(data);
  const known = recall();
  fill(
    byId("door-pattern"),
    invitation(),
    h("div", { id: "starts", className: "starts" }),
    h(
      "div",
      { className: "side", id: "side" },
      h("p", { id: "guest", className: "guest", hidden: true }, "This is an example of ours, so that you see how it goes. Type your own pattern over it, or start empty."),
      h("section", { id: "leaflet", className: "leaflet", "aria-label": "What the pattern said", hidden: true }),
      h("form", { id: "form", autocomplete: "off", onsubmit: (event) => event.preventDefault(), onkeydown: onEnter }),
    ),
    h("section", { id: "result", className: "result blank", tabIndex: -1, "aria-label": "The new cap" }),
  );
  starts(byId("starts"), openAny, accepted());
  frame(byId("result"));
  if (!known) state.guest = false;
  byId("notice").after(clash());
  byId("guest").hidden = !state.guest;
  build(byId("form"));
  panel(byId("leaflet"));
  tools();
  showTabs(levels);
  listen(onChange);
  for (const button of document.querySelectorAll("[data-door]")) {
    button.addEventListener("click", () => show(() => void (state.door = button.dataset.door), "door"));
  }
  for (const button of document.querySelectorAll("#places button")) button.addEventListener("click", () => goTo(button.dataset.place));
  for (const link of document.querySelectorAll("[data-goto]")) link.addEventListener("click", () => show(() => Object.assign(state, { door: "pattern", place: link.dataset.goto }), "door"));
  document.addEventListener("keydown", keys);
  document.addEventListener("drop", drop);
  addEventListener("storage", changedElsewhere);
  addEventListener("afterprint", () => delete document.body.dataset.print);
  document.documentElement.classList.toggle("big", state.big);
  doors();
  enter();
  // Dropped before the page had begun (early.js).
  if (window.early) openAny(window.early);
}

start().catch((error) => {
  console.error(error);
  // Work kept by another version must not lock the page for good.
  if (setAside()) location.reload();
});
