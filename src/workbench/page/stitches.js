// The stitch pattern and the stripes: charts typed as a person reads them, panels by their names, colours and rows.
import { choices, fill, h, idOf } from "./dom.js";
import { field } from "./fields.js";
import { change, groundBy, isStriped, keyOf, panels, set, state } from "./state.js";

/** Charts are redrawn by their text areas as they are typed in, and by undo. */
const drawn = new Map();

/** The squares of a chart as typed, its rows numbered from the last line up; rows of another length are named. */
function squares(text) {
  const rows = text.split("\n").map((row) => row.trim()).filter(Boolean);
  if (rows.length === 0) return [h("p", { className: "help" }, "The last line is row 1; a character stands for a stitch, the row\u2019s first stitch is at the right.")];
  const wide = [...rows.at(-1)].length;
  const row = (letters, place) => {
    const cells = [...letters];
    const wrong = cells.length !== wide;
    const name = `Row ${rows.length - place}${wrong ? `: ${counted(cells.length, "st")}, not ${wide}` : ""}`;
    return h("tr", { className: wrong ? "wrong-length" : "" }, h("th", { scope: "row" }, name), h("td", { className: "cells" }, cells.map((letter) => h("span", {}, letter.trim() || "\u00a0"))));
  };
  return [h("p", { className: "help" }, `${counted(wide, "st")}, ${counted(rows.length, "row")}`), h("table", { className: "squares" }, h("caption", { className: "unseen" }, "The chart as typed"), h("tbody", {}, rows.map(row)))];
}

const counted = (count, what) => `${count} ${what}${count === 1 ? "" : "s"}`;

/** Lines of a text area that shows all of its text, within reason. */
const lines = (text) => Math.min(24, Math.max(4, text.split("\n").length));

/** A chart as text, with its squares beside it. */
function chart(path) {
  const key = keyOf(path);
  const id = idOf(path);
  const seen = h("div", { className: "chart-seen", tabIndex: 0, role: "region", "aria-label": "The chart as typed, row by row" });
  const area = h("textarea", {
    id,
    className: "chart-typed",
    "data-input": path,
    "aria-describedby": `${id}-help ${id}-wrong`,
    spellcheck: false,
    autocomplete: "off",
    autocapitalize: "off",
    rows: lines(state.values[path] ?? ""),
    value: state.values[path] ?? "",
    oninput: (event) => {
      set(path, event.target.value);
      area.rows = lines(event.target.value);
      fill(seen, squares(event.target.value));
    },
  });
  fill(seen, squares(area.value));
  drawn.set(path, { area, seen });
  return h(
    "div",
    { className: "field chart", "data-path": path },
    h("label", { htmlFor: id }, key.label),
    h("p", { className: "help", id: `${id}-help` }, key.help),
    h("div", { className: "chart-pair" }, area, seen),
    h("div", { className: "wrong", id: `${id}-wrong` }),
  );
}

/** The legend: a line for each character. */
function legend() {
  const path = "stitch.legend";
  const id = idOf(path);
  return h(
    "div",
    { className: "field", "data-path": path },
    h("label", { htmlFor: id }, keyOf(path).label),
    h("p", { className: "help", id: `${id}-help` }, `${keyOf(path).help} One on a line: L = 2/2 left`),
    h("textarea", { id, className: "chart-typed", "data-input": path, "aria-describedby": `${id}-help ${id}-wrong`, spellcheck: false, autocapitalize: "off", rows: 3, value: state.values[path] ?? "", oninput: (event) => set(path, event.target.value) }),
    h("div", { className: "wrong", id: `${id}-wrong` }),
  );
}

const at = (place) => `stitch.panels.${place}`;

function addPanel() {
  const places = panels();
  const place = places.length ? Math.max(...places) + 1 : 0;
  change(null, () => Object.assign(state.values, { [`${at(place)}.name`]: free(place), [`${at(place)}.at`]: state.on.shoulder ? "saddle" : "crown" }), "form");
}

/** A name that no other panel has. */
function free(place) {
  const taken = panels().filter((other) => other !== place).map((other) => state.values[`${at(other)}.name`]);
  const names = Array.from({ length: taken.length + 1 }, (_, n) => (n === 0 ? "panel" : `panel ${n + 1}`));
  return names.find((name) => !taken.includes(name));
}

const removePanel = (place) => change(null, () => Object.keys(state.values).filter((path) => path.startsWith(`${at(place)}.`)).forEach((path) => delete state.values[path]), "form");

/** A panel's name: two of the same would be one, so the second is not taken, and that is said. */
function named(place) {
  const path = `${at(place)}.name`;
  const id = idOf(path);
  const objection = h("p", { className: "own", id: `${id}-own`, role: "status" });
  const input = h("input", {
    id,
    type: "text",
    autocomplete: "off",
    "data-input": path,
    "aria-describedby": `${id}-own`,
    value: state.values[path] ?? "",
    oninput: (event) => {
      const name = event.target.value.trim();
      const twice = panels().some((other) => other !== place && state.values[`${at(other)}.name`] === name);
      objection.textContent = name === "" ? "A panel needs a name; the one before is kept." : twice ? `Another panel is called \u201c${name}\u201d; the name before is kept.` : "";
      event.target.toggleAttribute("aria-invalid", false);
      if (objection.textContent) event.target.setAttribute("aria-invalid", "true");
      else set(path, name);
    },
  });
  return h("div", { className: "field" }, h("label", { htmlFor: id }, "Name of the panel"), input, objection);
}

function panel(place) {
  const path = at(place);
  const aside = state.values[`${path}.from_centre`] !== undefined;
  const where = choices(
    "Where it lies",
    `at-${place}`,
    [
      ["crown", "centred on the crown"],
      ["saddle", "on the saddle\u2019s stitches"],
      ["aside", "a pair, away from the centre"],
    ],
    aside ? "aside" : (state.values[`${path}.at`] || "crown"),
    (word) =>
      change(
        null,
        () => {
          delete state.values[`${path}.at`];
          delete state.values[`${path}.from_centre`];
          if (word === "aside") state.values[`${path}.from_centre`] = "2";
          else state.values[`${path}.at`] = word;
        },
        "form",
      ),
  );
  return h(
    "fieldset",
    { "data-path": path },
    h("legend", {}, `Panel \u201c${state.values[`${path}.name`] ?? ""}\u201d`),
    named(place),
    chart(`${path}.rows`),
    h("div", { "data-path": `${path}.at` }, where, h("div", { className: "wrong" })),
    h("div", { className: "grid" }, aside && field(`${path}.from_centre`), field(`${path}.first_row`, { placeholder: "1" })),
    h("p", { className: "row-of-buttons" }, h("button", { type: "button", className: "quiet", id: `remove-${place}`, onclick: () => removePanel(place) }, "Take this panel away")),
    h("div", { className: "wrong" }),
  );
}

/** The ground and its panels. */
export function stitchPattern() {
  const by = groundBy();
  const choose = choices(
    "The ground",
    "stitch-by",
    [
      ["none", "plain: leave this out"],
      ["named", "one with a name"],
      ["rows", "rows of my own"],
    ],
    by,
    (word) =>
      change(
        null,
        () => {
          state.on["stitch.by"] = word;
          if (word === "named" && !state.values["stitch.ground"]) state.values["stitch.ground"] = "stocking stitch";
        },
        "form",
      ),
    "A plain sleeve needs nothing here. With a ground, or a panel on it, every row of the cap is written out in pattern and drawn as a chart beside the figures.",
  );
  return h(
    "div",
    { "data-path": "stitch" },
    choose,
    by === "named" && h("div", { className: "grid" }, field("stitch.ground")),
    by === "rows" && chart("stitch.rows"),
    by !== "none" && [
      legend(),
      h("div", { className: "grid" }, field("stitch.worked", { help: "Rows from the cuff up are turned round, because the new cap is worked from the shoulder down." }), field("stitch.first_row", { placeholder: "chosen" }), field("stitch.first_stitch", { placeholder: "chosen" })),
      h("div", { "data-path": "stitch.panels" }, panels().map(panel), h("div", { className: "wrong" })),
      h("p", { className: "row-of-buttons" }, h("button", { type: "button", id: "add-panel", onclick: addPanel }, panels().length ? "Add another panel" : "Add a panel")),
    ],
    h("div", { className: "wrong" }),
  );
}

/** Colours and rows. */
export function stripes() {
  const striped = isStriped();
  const box = h("input", { type: "checkbox", id: "on-stripes", checked: striped, onchange: (event) => change(null, () => void (state.on.stripes = event.target.checked), "form") });
  return h(
    "div",
    { "data-path": "stripes" },
    h("div", { className: "field flag" }, h("label", {}, box, h("span", {}, "Body and sleeve are striped"))),
    striped && h("div", { className: "grid" }, field("stripes.body", { placeholder: "navy 4, cream 2", help: "Colours and their rows from the hem up: navy 4, cream 2. At the end they begin again." }), field("stripes.sleeve", { placeholder: "as the body" }), field("stripes.armhole_row", { placeholder: "1" }), field("stripes.first_row", { placeholder: "chosen" }), field("stripes.match_at", { placeholder: "0.5" })),
    h("div", { className: "wrong" }),
  );
}

/** Draws the charts from the values, without touching the one being typed in. */
export function refreshCharts() {
  for (const [path, { area, seen }] of drawn) {
    const text = state.values[path] ?? "";
    if (area.value !== text) area.value = text;
    fill(seen, squares(text));
  }
}

/** Forgets the charts of the form before. */
export const forgetCharts = () => drawn.clear();
