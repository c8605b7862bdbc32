import { plain } from "./numbers.js";

// The work: what was typed, kept in the browser, with undo. Values are texts as typed, by the path of
// their key; switches say which parts of the case are in use, so that nothing is lost when one is off.

const PLACE = "capwright.workbench.1";
const MOST_STEPS = 200;

let info = { sections: [], tables: [], cases: [], version: "" };
const kinds = new Map();
const listeners = new Set();
let past = [];
let future = [];
let last = { path: null, at: 0 };

export const state = {
  door: "pattern",
  values: {},
  on: {},
  size: 0,
  whatIf: null,
  guest: true,
  backlist: [],
  worstFirst: false,
  lesson: "ours",
  lessonDrift: null,
  big: false,
  place: "old",
  ticks: [],
  keeper: { open: null, places: {} },
  stamp: "",
  // The pattern that the work was read from, by its place on the shelf, and what of it a person has settled.
  leaflet: "",
  shelf: {},
  settled: [],
};

/** Takes in what the server told at the start. */
export function begin(told) {
  info = told;
  for (const section of told.sections) {
    for (const key of section.keys) {
      const path = section.path ? `${section.path}.${key.name}` : key.name;
      kinds.set(path, key);
      for (const inner of key.keys ?? []) kinds.set(`${path}.${inner.name}`, inner);
    }
  }
}

export const told = () => info;
/** The key at this path; panels are counted, whatever they are called. */
export const keyOf = (path) => kinds.get(path?.replace(/\.\d+\./, "."));
export const sectionOf = (path) => info.sections.find((section) => section.path === path);
export const listen = (listener) => listeners.add(listener);

function changed(what) {
  keep();
  for (const listener of listeners) listener(what);
}

const work = () => JSON.stringify([state.values, state.on, state.whatIf, state.leaflet, state.settled]);

function take(text) {
  [state.values, state.on, state.whatIf, state.leaflet, state.settled] = JSON.parse(text);
}

/** Changes the work; changes of one field in quick succession are one step of undo. */
export function change(path, make, what = "value") {
  const before = work();
  make();
  if (work() === before) return;
  const now = Date.now();
  const same = path !== null && last.path === path && now - last.at < 1000;
  if (!same) past.push(before);
  if (past.length > MOST_STEPS) past.shift();
  last = { path, at: now };
  future = [];
  state.guest = false;
  changed(what);
}

/** Takes values out of the case. */
export const drop = (paths) => change(null, () => paths.forEach((path) => delete state.values[path]), "form");
export const set = (path, value) => change(path, () => void (state.values[path] = value));
export const turn = (name, value) => change(null, () => void (state.on[name] = value), "form");
export const canUndo = () => past.length > 0;
export const canRedo = () => future.length > 0;

export function undo() {
  step(past, future);
}

export function redo() {
  step(future, past);
}

function step(from, to) {
  if (from.length === 0) return;
  to.push(work());
  take(from.pop());
  last = { path: null, at: 0 };
  changed("form");
}

/** Forgets the steps so far: there is nothing to go back to before them. */
export function forgetSteps() {
  past = [];
  future = [];
}

/** A change of what is shown, not of the work. */
export function show(make, what = "view") {
  make();
  changed(what);
}

/** Whether the browser keeps the work: "yes", "no" (there is no store, or it is full), or "other" while
 * another tab has changed what is kept and nobody has said which of the two is wanted. */
export const keeping = { now: "yes" };

function keep() {
  if (keeping.now === "other") return;
  try {
    const kept = JSON.parse(localStorage.getItem(PLACE) ?? "null");
    if (kept?.stamp && kept.stamp !== state.stamp) {
      keeping.now = "other";
      return;
    }
    state.stamp = stamp();
    localStorage.setItem(PLACE, JSON.stringify(state));
    keeping.now = "yes";
  } catch {
    // A full or forbidden store: the page works, it only forgets, and says so.
    keeping.now = "no";
  }
}

const stamp = () => `${Date.now()}-${Math.random().toString(36).slice(2)}`;

/** Another tab has kept its work: called when the store says so. */
export function changedElsewhere(event) {
  if (event.key !== PLACE || event.newValue === null) return;
  try {
    if (JSON.parse(event.newValue).stamp !== state.stamp) keeping.now = "other";
  } catch {
    return;
  }
  for (const listener of listeners) listener("view");
}

/** Keeps this tab's work over the other's. */
export function keepMine() {
  try {
    state.stamp = JSON.parse(localStorage.getItem(PLACE) ?? "null")?.stamp ?? "";
  } catch {
    state.stamp = "";
  }
  keeping.now = "yes";
  changed("view");
}

/** Takes up the other tab's work; this one's is a step of undo. */
export function takeTheirs() {
  const before = work();
  recall();
  keeping.now = "yes";
  past.push(before);
  future = [];
  changed("form");
}

/** True when nothing of a sleeve is there yet. */
export const isEmpty = () => !state.on["cap.none"] && !Object.entries(state.values).some(([path, value]) => !["units", "wording.terms"].includes(path) && value !== "" && value !== false);

/** Takes up the work that was kept; false when there is none. */
export function recall() {
  try {
    const kept = JSON.parse(localStorage.getItem(PLACE) ?? "null");
    if (!kept?.values || !kept.on) return false;
    for (const name of Object.keys(state)) if (name in kept) state[name] = kept[name];
    return true;
  } catch {
    return false;
  }
}

/** Puts kept work that cannot be shown aside, so that the page can begin; it is not thrown away. */
export function setAside() {
  const kept = localStorage.getItem(PLACE);
  if (kept === null) return false;
  localStorage.setItem(`${PLACE}.aside`, kept);
  localStorage.removeItem(PLACE);
  return true;
}

const SEPARATOR = /[,;:()[\]]/;

function typed(path, value) {
  if (typeof value === "number") return String(value);
  if (!Array.isArray(value)) return value;
  const kind = keyOf(path)?.kind;
  if (kind === "pairs") return value.map((pair) => [pair].flat().join(" ")).join(", ");
  const words = value.map(String);
  if (kind === "labels") return words.some((word) => SEPARATOR.test(word)) ? value : words.join(", ");
  if (kind === "sized" && words.length > 1) return `${words[0]} (${words.slice(1).join(", ")})`;
  return kind ? words.join(", ") : value;
}

/** Patterns that are kept, so that undo finds the one before. */
const MOST_PATTERNS = 3;

/** Puts a pattern on the shelf; each fact remembers what was typed for it. */
function shelve(leaflet) {
  const facts = leaflet.facts.map((fact) => ({ ...fact, typed: String(state.values[fact.key] ?? "") }));
  const name = stamp();
  const kept = Object.entries(state.shelf).slice(1 - MOST_PATTERNS);
  state.shelf = Object.fromEntries([...kept, [name, { ...leaflet, facts }]]);
  return name;
}

/** Tables whose names are the case's own and may hold anything, a full stop too: a legend is a text with a line for each
 * character, panels are counted. */
const OWN_NAMES = {
  "so_far.picked_up": (values, four) => void (values["so_far.picked_up"] = Array.isArray(four) ? four.join(", ") : ["crown", "first", "base", "second"].map((name) => four[name]).join(", ")),
  "stitch.legend": (values, legend) => void (values["stitch.legend"] = Object.entries(legend).map(([letter, stitch]) => `${letter} = ${stitch}`).join("\n")),
  "stitch.panels": (values, named, walk) =>
    Object.entries(named).forEach(([name, panel], place) => {
      values[`stitch.panels.${place}.name`] = name;
      if (panel && typeof panel === "object") walk(panel, `stitch.panels.${place}`);
    }),
};

/** Places of the panels, in the order they were added. */
export function panels(values = state.values) {
  const places = Object.keys(values).map((path) => /^stitch\.panels\.(\d+)\./.exec(path)?.[1]);
  return [...new Set(places.filter(Boolean).map(Number))].sort((a, b) => a - b);
}

const has = (start, values = state.values) => Object.entries(values).some(([path, value]) => path.startsWith(start) && value !== "");

/** How the ground is given; work that was kept before the page asked says it by its keys. */
export const groundBy = (on = state.on) => on["stitch.by"] ?? (has("stitch.rows") ? "rows" : has("stitch.") ? "named" : "none");

export const isStriped = (on = state.on) => on.stripes ?? has("stripes.");

/** The field of a path in a case: a panel's name there is its place here. */
export function fieldOf(path) {
  const rest = /^stitch\.panels\.(.+)$/s.exec(path ?? "")?.[1];
  if (!rest) return /^stitch\.legend\./.test(path ?? "") ? "stitch.legend" : path;
  const name = (place) => state.values[`stitch.panels.${place}.name`];
  const place = panels().find((place) => rest === name(place) || rest.startsWith(`${name(place)}.`));
  return place === undefined ? path : `stitch.panels.${place}${rest.slice(name(place).length)}`;
}

/** Puts a case, as the server gives it, in place of the work; with the pattern it was read from, if any. */
export function load(form, name, leaflet = null) {
  change(
    null,
    () => {
      const values = {};
      const walk = (table, path) => {
        for (const [name, value] of Object.entries(table)) {
          const full = path ? `${path}.${name}` : name;
          if (value && OWN_NAMES[full] && typeof value === "object") OWN_NAMES[full](values, value, walk);
          else if (value && typeof value === "object" && !Array.isArray(value)) walk(value, full);
          else values[full] = typed(full, value);
        }
      };
      walk(form, "");
      const armhole = form.armhole ?? {};
      const one = armhole.front ?? armhole;
      const body = form.body ?? {};
      state.values = values;
      state.whatIf = null;
      state.on = {
        "gauge.flat": Boolean(form.gauge?.flat),
        "gauge.round": Boolean(form.gauge?.round),
        "gauge.body": Boolean(form.gauge?.body),
        "gauge.flat.before_washing": Boolean(form.gauge?.flat?.before_washing),
        "gauge.round.before_washing": Boolean(form.gauge?.round?.before_washing),
        "armhole.differ": Boolean(armhole.front || armhole.back),
        "armhole.by": "lines" in one ? "lines" : COUNTED.some((key) => key in one) ? "counts" : "measures",
        shoulder: Boolean(form.shoulder),
        "stitch.by": form.stitch === undefined ? "none" : "rows" in form.stitch ? "rows" : "named",
        stripes: Boolean(form.stripes),
        "cap.none": form.sleeve?.cap === undefined && form.adapt !== undefined,
        adapt: form.adapt !== undefined,
        "adapt.arm": form.adapt?.upper_arm === undefined ? "keep" : typeof form.adapt.upper_arm === "object" && !Array.isArray(form.adapt.upper_arm) ? "eased" : "finished",
        "body.by": body.upper_arm !== undefined ? "arm" : body.bust !== undefined ? "bust" : body.size !== undefined ? "size" : "none",
      };
      state.size = 0;
      state.settled = [];
      state.leaflet = leaflet ? shelve(leaflet) : "";
      state.place = leaflet ? "old" : state.place;
    },
    "loaded",
  );
  if (name) last = { path: null, at: 0 };
}

const MEASURED = ["edge", "underarm", "depth"];
const COUNTED = ["rows", "bound_off", "steps", "decreases"];
const BY = { measures: MEASURED, counts: [...COUNTED, "seam_stitches", ...MEASURED], lines: ["stitches", "lines", "first_row", "seam_stitches", "rows", "bound_off"] };
const KNOWN_BY = { none: [], size: ["table", "size", "ease"], bust: ["table", "bust", "ease"], arm: ["table", "upper_arm", "bust", "ease"] };

const OF_OLD_CAP = ["stitches", "cap", "first_row", "seam_rows"];

/** False for a value of a part that is switched off. */
export function inUse(path, on = state.on) {
  const parts = path.split(".");
  const key = parts.at(-1);
  if (parts[0] === "gauge" && parts.length > 2 && parts[1] !== "pattern") {
    return Boolean(on[`gauge.${parts[1]}`]) && (parts[2] !== "before_washing" || Boolean(on[`gauge.${parts[1]}.before_washing`]));
  }
  if (path === "gauge.cap") return Boolean(on[`gauge.${state.values[path]}`]);
  if (parts[0] === "armhole") {
    const side = parts.length > 2;
    const known = [...BY.counts, ...BY.lines].includes(key);
    return side === Boolean(on["armhole.differ"]) && (!known || BY[on["armhole.by"] ?? "measures"].includes(key));
  }
  if (parts[0] === "sleeve" && on["cap.none"]) return !OF_OLD_CAP.includes(key);
  if (parts[0] === "adapt") {
    if (!on.adapt) return false;
    const arm = on["adapt.arm"] ?? "keep";
    if (parts[1] === "upper_arm") return parts.length > 2 ? arm === "eased" : arm === "finished";
    return !(on["cap.none"] && ["keep", "sizes"].includes(key));
  }
  if (parts[0] === "shoulder") return Boolean(on.shoulder);
  if (parts[0] === "stripes") return isStriped(on);
  if (parts[0] === "stitch") {
    const by = groundBy(on);
    return by !== "none" && (key !== "ground" || parts.length > 2 || by === "named") && (path !== "stitch.rows" || by === "rows");
  }
  if (parts[0] === "body") return KNOWN_BY[on["body.by"] ?? "none"].includes(key) || !kinds.has(path);
  return true;
}

/** The case to send: what is in use, as nested tables; with the drift that is being tried only where that is asked for. */
export function toCase({ tried = false } = {}) {
  const form = {};
  for (const [path, value] of Object.entries(state.values)) {
    if (!inUse(path) || value === "" || value === false) continue;
    const parts = path.split(".");
    if (path.startsWith("stitch.panels.")) {
      // Under its name, which may hold a full stop.
      if (parts.at(-1) === "name") continue;
      parts.splice(2, 1, state.values[`stitch.panels.${parts[2]}.name`] ?? parts[2]);
    }
    let at = form;
    for (const part of parts.slice(0, -1)) at = at[part] = typeof at[part] === "object" ? at[part] : {};
    at[parts.at(-1)] = plain(path, value).text;
  }
  if (state.on.adapt && !form.adapt) form.adapt = {};
  return tried && state.whatIf !== null ? withDrift(form, state.whatIf) : form;
}

/** The same case as if the round swatch were this many per cent tighter than the flat one. */
export function withDrift(form, pct) {
  const gauge = form.gauge ?? {};
  const base = gauge.flat ?? gauge.pattern;
  if (!base) return form;
  const tried = (counts) => String(Number((mean(counts) * (1 + pct / 100)).toFixed(3)));
  const over = Array.isArray(base.over) || String(base.over ?? "").includes(",") ? undefined : base.over;
  return { ...form, gauge: { ...gauge, round: { stitches: tried(base.stitches), rows: tried(base.rows), ...(over ? { over } : {}) } } };
}

function mean(counts) {
  const numbers = [counts ?? ""].flat().flatMap((text) => String(text).split(/[^0-9.]+/).filter(Boolean).map(Number));
  return numbers.reduce((sum, number) => sum + number, 0) / numbers.length;
}

/** Labels of the sizes as typed. */
export function sizeLabels() {
  const sizes = state.values.sizes;
  const list = Array.isArray(sizes) ? sizes : String(sizes ?? "").split(SEPARATOR).map((word) => word.trim());
  const labels = list.filter(Boolean);
  return labels.length ? labels : ["one size"];
}
