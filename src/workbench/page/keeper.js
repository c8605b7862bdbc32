// The row keeper: the pattern one step at a time, in large type, its place kept. Space, the arrows and the page keys go on
// and back, as does a pedal that sends them; the screen stays awake where the browser can do that.
import { fill, h } from "./dom.js";
import { plain } from "./numbers.js";
import { show as change, sizeLabels, state, change as work } from "./state.js";
import { show } from "./units.js";

const MOST_NOTE = 2000;
const ON = ["ArrowRight", "ArrowDown", "PageDown", " "];
const BACK = ["ArrowLeft", "ArrowUp", "PageUp", "Backspace"];

let dialog = null;
let now = null;
let lock = null;

const keyOf = (size, sleeve) => [state.values.title ?? "", size.size, sleeve.sleeve].join(" / ");
const kept = () => state.keeper.places[now.key] ?? { part: "", at: "", notes: {} };
const nameOf = (step) => `${step.part}, ${step.at}`;

/** Where this sleeve was left off: by the name of the step, since the pattern may have changed. */
function placeOf(steps) {
  const { part, at } = kept();
  return Math.max(0, steps.findIndex((step) => step.part === part && step.at === at));
}

/** A button for each sleeve; opens again what was open when the page was left. */
export function keepers(size, follow) {
  if (!follow?.length) return null;
  const buttons = follow.map((sleeve) => {
    const only = follow.length === 1 ? "" : `, ${sleeve.sleeve} sleeve`;
    const id = `keep-${sleeve.sleeve}`;
    return h("button", { type: "button", id, className: "main", onclick: () => open(size, sleeve) }, `Knit one step at a time${only}`);
  });
  for (const sleeve of follow) {
    if (dialog?.open ? now.key === keyOf(size, sleeve) : state.keeper.open === keyOf(size, sleeve)) queueMicrotask(() => open(size, sleeve));
  }
  return h("p", { className: "row-of-buttons" }, buttons);
}

function open(size, sleeve) {
  build();
  // The same steps again, after an answer of the engine: what is typed here stays.
  if (dialog.open && JSON.stringify(now.steps) === JSON.stringify(sleeve.steps)) return void Object.assign(now, { size, sleeve, key: keyOf(size, sleeve) });
  now = { size, sleeve, steps: sleeve.steps, key: keyOf(size, sleeve) };
  now.place = placeOf(now.steps);
  if (state.keeper.open !== now.key) change(() => void (state.keeper.open = now.key));
  if (!dialog.open) {
    dialog.showModal();
    awake();
    draw();
    // The first press of bar or pedal goes on; it must not meet "Close".
    (part("next").disabled ? part("back") : part("next")).focus();
    return;
  }
  draw();
}

/** The frame, once; what changes from step to step is drawn into it. */
function build() {
  if (dialog) return;
  const big = (id, label, by) => h("button", { type: "button", id, onclick: () => step(by) }, label);
  dialog = h(
    "dialog",
    { id: "keeper", className: "keeper", "aria-labelledby": "keeper-part", onkeydown: keys, onclose: closed },
    h(
      "header",
      {},
      h("div", {}, h("h2", { id: "keeper-part" }), h("p", { id: "keeper-where" })),
      h("button", { type: "button", id: "keeper-close", onclick: () => dialog.close() }, "Close"),
      h("progress", { id: "keeper-progress", "aria-label": "Steps done" }),
    ),
    h(
      "div",
      { className: "now", tabIndex: 0, "aria-label": "This step", role: "group" },
      h("div", { id: "keeper-step", "aria-live": "polite" }),
      h("div", { id: "keeper-measured" }),
      h("label", { htmlFor: "keeper-note" }, "Note"),
      h("textarea", { id: "keeper-note", rows: 2, maxLength: MOST_NOTE, oninput: note }),
      h("p", { className: "help", id: "keeper-awake" }),
    ),
    h("footer", {}, big("keeper-back", "Back", -1), big("keeper-next", "Next", 1)),
  );
  document.body.append(dialog);
  document.addEventListener("visibilitychange", () => dialog.open && document.visibilityState === "visible" && awake());
}

const part = (id) => document.getElementById(`keeper-${id}`);

function draw() {
  const at = now.steps[now.place];
  const last = now.place === now.steps.length - 1;
  const sleeve = now.sleeve.sleeve === "both" ? "" : `, ${now.sleeve.sleeve} sleeve`;
  fill(part("part"), at.part);
  fill(part("where"), `Step ${now.place + 1} of ${now.steps.length}${sleeve}`);
  part("progress").max = now.steps.length;
  part("progress").value = now.place + 1;
  const sides = { RS: "right side", WS: "wrong side" };
  const [first, ...more] = at.say;
  fill(
    part("step"),
    h("p", { className: "at" }, at.at, at.side && [" ", h("strong", { className: `facing ${at.side.toLowerCase()}` }, at.side, h("span", { className: "unseen" }, `, ${sides[at.side]}`))]),
    h("p", { className: "do" }, first),
    more.map((sentence) => h("p", { className: "more-to-do" }, sentence)),
    at.then && h("p", { className: "then" }, h("span", {}, "Then: "), at.then),
    at.measure && h("p", { className: "then" }, h("span", {}, "It measures: "), at.measure),
  );
  fill(part("measured"), measured());
  part("note").value = kept().notes[nameOf(at)] ?? "";
  part("back").disabled = now.place === 0;
  part("next").disabled = last;
  fill(part("next"), last ? "Done" : "Next");
  dialog.querySelector(".now").scrollTop = 0;
}

function step(by) {
  const to = now.place + by;
  if (to < 0 || to >= now.steps.length) return;
  now.place = to;
  const { part: name, at } = now.steps[to];
  change(() => void (state.keeper.places[now.key] = { ...kept(), part: name, at }));
  draw();
  // A button that was pressed and is now disabled hands the focus to the other one.
  const lost = document.activeElement === document.body || document.activeElement?.disabled;
  if (lost) (part("next").disabled ? part("back") : part("next")).focus();
}

function keys(event) {
  if (event.ctrlKey || event.altKey || event.metaKey || event.target.matches("textarea, input")) return;
  // The space bar presses the button that has the focus, wherever that is not "Next" itself.
  if (event.key === " " && event.target.matches("button:not(#keeper-next)")) return;
  const by = ON.includes(event.key) ? 1 : BACK.includes(event.key) ? -1 : 0;
  if (by === 0) return;
  event.preventDefault();
  // A key that is held down is one press.
  if (!event.repeat) step(by);
}

function note(event) {
  const notes = { ...kept().notes, [nameOf(now.steps[now.place])]: event.target.value };
  if (event.target.value === "") delete notes[nameOf(now.steps[now.place])];
  change(() => void (state.keeper.places[now.key] = { ...kept(), notes }));
}

/** "It measures ...": what the tape says after the row she is on; a measure is one of whole pairs, so an RS row asks for the one before. */
function measured() {
  const here = now.steps[now.place];
  const even = (step) => step.depth_cm !== null && step.number % 2 === 0;
  const to = here.length_cm !== null ? here : here.depth_cm === null ? null : now.steps.slice(0, now.place + 1).findLast(even);
  if (!to) return null;
  const units = state.values.units ?? "cm";
  const says = h("p", { id: "keeper-says", className: "then", role: "status" });
  const input = h("input", { type: "text", id: "keeper-depth", inputMode: "decimal", oninput: () => fill(says, verdict(input.value, to)) });
  const tell = h("button", { type: "button", id: "keeper-tell", className: "quiet", onclick: () => told(input.value, to) }, "Put this into the case");
  const after = `${to.depth_cm === null ? "round" : "row"} ${to.number}`;
  const what = to.depth_cm === null ? "the sleeve is so long below the underarm" : "my work is so deep";
  return [h("label", { htmlFor: "keeper-depth" }, `After ${after} ${what}, in ${units === "in" ? "inches" : "centimetres"}`), input, says, tell];
}

/** The measure as the case's own, so that the result says what it comes to. */
function told(typed, to) {
  if (!(depthOf(typed) > 0)) return void fill(part("says"), "That is no length.");
  const number = String(to.number);
  // The measure of the cap belongs to the rows there are now; that of the tube to its round and its count.
  const keys = to.depth_cm === null ? { "so_far.rounds": number, "so_far.stitches": to.then.replace(/\D.*$/, ""), "so_far.length": typed } : { "so_far.rows": number, "so_far.depth": typed };
  const put = () => {
    if (to.depth_cm !== null) delete state.values["so_far.measured_at"];
    Object.assign(state.values, keys, sizeLabels().length > 1 ? { "so_far.size": now.size.size } : {});
  };
  work(null, put, "form");
  fill(part("says"), "It stands under \u201cOn the needles already\u201d; the findings say what it comes to.");
}

const depthOf = (typed) => Number(plain("so_far.depth", typed).text);

function verdict(typed, to) {
  if (!typed.trim()) return "";
  const units = state.values.units ?? "cm";
  const number = depthOf(typed);
  if (!(number > 0)) return "That is no length.";
  const tube = to.depth_cm === null;
  const planned = tube ? to.length_cm : to.depth_cm;
  const allowed = tube ? to.length_off_cm : to.depth_off_cm;
  const off = number * (units === "in" ? 2.54 : 1) - planned;
  const size = Math.abs(off);
  const word = off > 0 ? `${tube ? "longer" : "deeper"} than planned` : "short";
  if (size <= allowed) return `${show(size)} ${word}: nothing to worry about.`;
  const whole = tube ? now.steps.findLast((step) => step.length_cm !== null).length_cm : now.size.fit.depth_cm;
  const end = (size * whole) / planned;
  return `${show(size)} ${word}; up to ${show(allowed)} would be nothing to worry about. At this rate the ${tube ? "sleeve" : "cap"} ends ${show(end)} ${word}. Count the ${tube ? "rounds" : "rows"} again; if they are right, put the measure into the case, and the rest is planned from there.`;
}

/** Keeps the screen awake where that can be had, and says so. */
async function awake() {
  try {
    lock = (await navigator.wakeLock?.request("screen")) ?? null;
  } catch {
    lock = null;
  }
  fill(part("awake"), lock ? "The screen stays awake while this is open." : "This browser may let the screen go dark; the place is kept.", " Space, arrows and page keys go on and back, a pedal too.");
}

function closed() {
  lock?.release();
  lock = null;
  change(() => void (state.keeper.open = null));
  document.getElementById(`keep-${now.sleeve.sleeve}`)?.focus();
}
