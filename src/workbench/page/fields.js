// Fields: a label, one line of help, the input, and beside it what is wrong, in words.
import { named } from "./advice.js";
import { fill, h, idOf } from "./dom.js";
import { mark } from "./leaflet.js";
import { plain, understood, withUnits } from "./numbers.js";
import { change, fieldOf, keyOf, set, sizeLabels, state, told } from "./state.js";

const WORDS = {
  RS: "right side (RS)",
  WS: "wrong side (WS)",
  cm: "centimetres",
  in: "inches",
  us: "US (bind off)",
  uk: "UK (cast off)",
  wrap: "wrap and turn",
  german: "German short rows",
  right: "right-handed",
  left: "left-handed",
  even: "evenly",
  shoulder: "near the shoulder",
  flat: "the flat swatch",
  round: "the round swatch",
  shape: "its shape",
  depth: "its depth",
  area: "its area",
  each: "each in its own way",
  alike: "all in the same way",
  usual: "usual",
  first: "first",
  second: "second",
  up: "from the cuff up, as an old sleeve",
  down: "from the shoulder down",
};

/** Words that mean something else in one field. */
const IN_FIELD = {
  "so_far.mend": { keep: "keep them, and plan with them", correct: "put them right on the needle" },
  "so_far.sleeve": { left: "left", right: "right" },
  "wording.body": { pieces: "in pieces, sewn at the sides", round: "in the round", steeked: "in the round, armholes cut (steeked)" },
  "wording.underarm": { "bound-off": "bound off", "cast-on": "cast on", live: "live, on a holder" },
};

/** What it is where nothing is chosen, and no word of the list is meant by that. */
const NOTHING_SAID = {
  "gauge.cap": "the flat one if there is one",
  "so_far.mend": "what costs less; worked rows keep them",
  "so_far.sleeve": "the left one, where it matters",
};

export const wordFor = (word, path = "") => IN_FIELD[path]?.[word] ?? WORDS[word] ?? word;

const unitsWord = () => (state.values.units === "in" ? "in" : "cm");

/** A field for the key at this path. */
export function field(path, { label, help, placeholder } = {}) {
  const key = keyOf(path);
  const id = idOf(path);
  const described = `${id}-help ${id}-wrong`;
  const name = label ?? key.label;
  const value = state.values[path];
  const common = { id, "aria-describedby": described, "data-input": path };
  const text = Array.isArray(value) ? value.join(", ") : String(value ?? "");
  const listen = { oninput: (event) => set(path, event.target.value) };
  let input;
  if (key.kind === "flag") {
    input = h("input", { ...common, type: "checkbox", checked: value === true, onchange: (event) => set(path, event.target.checked) });
    return h(
      "div",
      { className: "field flag", "data-path": path },
      h("label", {}, input, h("span", {}, name)),
      h("p", { className: "help", id: `${id}-help` }, help ?? key.help),
      h("div", { className: "wrong", id: `${id}-wrong` }),
    );
  }
  if (key.kind === "word") {
    // The first word is what a case means that says nothing, except where the other keys decide.
    const said = NOTHING_SAID[path];
    const usual = said ? h("option", { value: "" }, said) : null;
    const words = key.words.map((word, place) => h("option", { value: !usual && place === 0 && text === "" ? "" : word, selected: word === text }, wordFor(word, path)));
    input = h("select", { ...common, onchange: (event) => set(path, event.target.value) }, usual, words);
  } else if (path === "body.table") {
    // Those that can answer by size or bust first.
    const answering = [...told().tables].sort((a, b) => Number(b.sizes.length > 0) - Number(a.sizes.length > 0));
    const tables = answering.map((table) => h("option", { value: table.id, selected: table.id === text }, table.title));
    const choose = (event) => change(null, () => void (state.values[path] = event.target.value), "form");
    input = h("select", { ...common, onchange: choose }, h("option", { value: "" }, "none"), tables);
  } else {
    const decimal = !["text", "labels"].includes(key.kind);
    input = h("input", {
      ...common,
      type: "text",
      inputMode: decimal ? "decimal" : "text",
      autocomplete: "off",
      spellcheck: false,
      value: text,
      placeholder: placeholder ?? "",
      list: path === "body.size" ? "body-sizes" : null,
      ...listen,
    });
  }
  return h(
    "div",
    { className: key.kind === "sized" && sizeLabels().length > 4 ? "field long" : "field", "data-path": path },
    h("label", { htmlFor: id }, name, key.length && h("span", { className: "unit" }, ` (${unitsWord()})`)),
    h("p", { className: "help", id: `${id}-help` }, help ?? key.help),
    input,
    path === "body.size" && sizesOfTable(),
    h("p", { className: "understood", "data-understood": path }, understood(path)),
    h("div", {}, mark(path)),
    h("div", { className: "wrong", id: `${id}-wrong` }),
  );
}

function sizesOfTable() {
  const table = told().tables.find((one) => one.id === state.values["body.table"]);
  return h("datalist", { id: "body-sizes" }, (table?.sizes ?? []).map((size) => h("option", { value: size })));
}

/** A slider and a field for the same number; an empty field means the usual. `change` gives back a
 * sentence when it cannot take the text. */
export function slider({ name, label, help, value, least, most, step, empty, change: take }) {
  const id = `s-${name.replaceAll(".", "-")}`;
  const objection = h("p", { className: "own", id: `${id}-own` });
  const change = (text) => {
    const sentence = take(text.trim().replace("\u2212", "-").replace(/^(-?\d+),(\d+)$/, "$1.$2"));
    objection.textContent = sentence ?? "";
    if (sentence) number.setAttribute("aria-invalid", "true");
    else number.removeAttribute("aria-invalid");
  };
  const number = h("input", {
    id,
    type: "text",
    inputMode: "decimal",
    autocomplete: "off",
    value,
    placeholder: "\u2013",
    "aria-describedby": `${id}-help ${id}-own ${id}-wrong`,
    "data-input": name,
    oninput: (event) => {
      if (event.target.value !== "") range.value = event.target.value;
      change(event.target.value);
    },
  });
  const range = h("input", {
    type: "range",
    min: least,
    max: most,
    step,
    value: value === "" ? (least < 0 ? 0 : least) : value,
    "aria-label": `${label}, slider`,
    oninput: (event) => {
      number.value = event.target.value;
      change(event.target.value);
    },
  });
  const reset = h(
    "button",
    {
      type: "button",
      className: "quiet",
      onclick: () => {
        number.value = "";
        change("");
      },
    },
    empty,
  );
  return h(
    "div",
    { className: "field slide", "data-path": name },
    h("label", { htmlFor: id }, label),
    h("p", { className: "help", id: `${id}-help` }, help),
    h("div", { className: "pair" }, range, number, reset),
    objection,
    h("div", { className: "wrong", id: `${id}-wrong` }),
  );
}

/** A drift from a text: a number, null for none, or undefined for what is no drift. */
export function driftOf(text) {
  if (text === "") return null;
  const number = Number(text);
  return Number.isFinite(number) && Math.abs(number) <= 30 ? number : undefined;
}

export const NO_DRIFT = "A drift is a number of per cent between \u221230 and 30.";

/** Sets the inputs to the values, without touching the one being typed in. */
export function refresh(root) {
  for (const note of root.querySelectorAll("[data-understood]")) note.textContent = understood(note.dataset.understood);
  for (const input of root.querySelectorAll("[data-input]")) {
    const path = input.getAttribute("data-input");
    if (!keyOf(path)) continue;
    const value = state.values[path];
    if (input.type === "checkbox") input.checked = value === true;
    else {
      const text = Array.isArray(value) ? value.join(", ") : String(value ?? "");
      if (input.value !== text) input.value = text;
      const range = input.parentElement.querySelector("input[type=range]");
      if (range && text !== "" && range.value !== text) range.value = text;
    }
  }
}

/** Puts each finding beside its field; returns those that have no field on the page. */
export function place(root, findings) {
  for (const wrong of root.querySelectorAll(".wrong")) if (wrong.childNodes.length) fill(wrong);
  for (const input of root.querySelectorAll("[aria-invalid]")) input.removeAttribute("aria-invalid");
  for (const field of root.querySelectorAll(".needed")) field.classList.remove("needed");
  const left = [];
  for (const finding of findings) {
    const container = closest(root, fieldOf(finding.field));
    // What was not filled in yet is no error: it is marked as needed, and the result says what is.
    if (finding.code === "missing-key") {
      for (const path of neededOf(finding)) root.querySelector(`[data-path="${CSS.escape(path)}"]`)?.classList.add("needed");
      left.push(finding);
      continue;
    }
    if (!container) {
      left.push(finding);
      continue;
    }
    const wrong = container.querySelector(":scope > .wrong, :scope > .body > .wrong");
    if (!wrong) {
      left.push(finding);
      continue;
    }
    wrong.append(sentence(finding));
    const cure = otherUnits(finding);
    if (cure) wrong.append(cure);
    if (finding.level === "error") container.querySelector(":scope > input, :scope > select, :scope textarea, :scope > .pair > input[type=text], :scope .chart-typed")?.setAttribute("aria-invalid", "true");
    container.closest("details")?.setAttribute("open", "");
  }
  return left;
}

const NEEDED = { measures: ["edge", "underarm", "depth"], counts: ["rows", "bound_off"], lines: ["stitches", "lines"] };

/** The fields that a missing part of a case asks for, those that are still empty. */
export function neededOf({ field }) {
  const armhole = NEEDED[state.on["armhole.by"] ?? "measures"];
  const keys = { "gauge.pattern": ["stitches", "rows"], sleeve: ["stitches", "cap"], armhole, "armhole.front": armhole, "armhole.back": armhole }[field];
  if (!keys) return field ? [field] : [];
  return keys.map((key) => `${field}.${key}`).filter((path) => !state.values[path]);
}

function closest(root, path) {
  for (let at = path; at; at = at.includes(".") ? at.slice(0, at.lastIndexOf(".")) : "") {
    const found = root.querySelector(`[data-path="${CSS.escape(at)}"]`);
    if (found) return found;
  }
  return null;
}

/** True when all numbers of this text lie within the limits that the finding names. */
function isInside(message, text) {
  const limits = /lies (?:between|within) ([\d.]+)\D* (?:and|to) ([\d.]+)/.exec(message);
  const numbers = text.match(/\d+(?:\.\d+)?/g) ?? [];
  return Boolean(limits) && numbers.length > 0 && numbers.every((number) => Number(number) >= Number(limits[1]) && Number(number) <= Number(limits[2]));
}

/** A length that cannot be right in these units but can in the others. */
function otherUnits(finding) {
  const path = finding.field;
  const typed = state.values[path];
  if (finding.code !== "out-of-range" || !keyOf(path)?.length || typeof typed !== "string" || /[a-z"]/i.test(typed)) return null;
  const others = state.values.units === "in" ? "cm" : "in";
  if (!isInside(finding.message, plain(path, withUnits(plain(path, typed).text, others)).text)) return null;
  const table = path.slice(0, path.lastIndexOf("."));
  const same = Object.keys(state.values).filter((other) => other.startsWith(`${table}.`) && keyOf(other)?.length && /^[\s\d.,/()[\]\u00bc-\u00be-]+$/.test(String(state.values[other])));
  const mend = () => change(null, () => same.forEach((other) => void (state.values[other] = withUnits(plain(other, state.values[other]).text, others))), "form");
  return h("p", { className: "row-of-buttons" }, h("button", { type: "button", className: "repair", onclick: mend }, others === "cm" ? "They were centimetres" : "They were inches"));
}

/** A finding with the names of the page in place of the keys of a case file. */
export function humane(finding) {
  const message = asTyped(finding.field, named(finding.message));
  const known = finding.code === "missing-key" && keyOf(finding.field);
  return {
    ...finding,
    message: known ? message.replace(/^The case lacks (.*)\.$/, "$1 is missing.") : /[.!?]$/.test(message) ? message : `${message}.`,
    next: known ? "Fill it in." : named(finding.next),
  };
}

/** What was typed beside what was read of it: 36" (91.44 cm). */
function asTyped(path, message) {
  const typed = path && state.values[path];
  const { text, changed } = path ? plain(path, typed) : {};
  if (!changed || !/^\d/.test(text)) return message;
  const at = new RegExp(`\\b${text.replace(/[.*+?^${}()|[\]\\]/g, "\\$&")}( (?:cm|in)\\b)?(?![.\\d])`);
  return message.replace(at, (read) => `${typed.trim()} (${read})`);
}

/** The sizes a merged finding is about, as the beginning of a sentence. */
export function whose(finding) {
  const sizes = (finding.sizes ?? [finding.size]).filter((size) => size && size !== "one size");
  if (sizes.length === 0) return "";
  const all = sizes.length > 1 && sizes.length === sizeLabels().length;
  const who = all ? "all sizes" : `${sizes.length > 1 ? "sizes" : "size"} ${sizes.join(", ")}`;
  return finding.differs ? `${who} (figures of ${sizes[0]}): ` : `${who}: `;
}

const LEVELS = { error: "Error", warning: "Look here", note: "Note" };

export const levelWord = (level) => LEVELS[level] ?? level;

/** A finding as a line of text. */
export function sentence(told) {
  const finding = humane(told);
  return h(
    "p",
    { className: `said ${finding.level}` },
    h("strong", {}, `${levelWord(finding.level)}: `),
    finding.message,
    " ",
    h("span", { className: "next" }, finding.next),
  );
}
