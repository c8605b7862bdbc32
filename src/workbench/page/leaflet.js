// A whole printed pattern: read into the fields, each with the words it came from; what is open as one short list;
// the pattern with the new sleeve in it, to be saved.
import { ask } from "./ask.js";
import { choices, fill, h, idOf, notice, say } from "./dom.js";
import { open as openCase, saveOf } from "./save.js";
import { change, keyOf, load, sizeLabels, state, toCase, told } from "./state.js";

const MOST_TEXT = 2e6;
const MOST_PDF = 20 * 1024 * 1024;

/** What the fields of a pattern are called where they stand alone. */
const NAMES = {
  title: "Name",
  units: "Units",
  sizes: "Sizes",
  "gauge.pattern.stitches": "Gauge of the pattern, stitches",
  "gauge.pattern.rows": "Gauge of the pattern, rows",
  "gauge.pattern.over": "Gauge, counted over",
  "gauge.round.stitches": "Your own swatch in rounds",
  "sleeve.stitches": "Sleeve, stitches before the cap",
  "sleeve.cap": "Sleeve, lines of the cap",
  "sleeve.first_row": "Sleeve, side of the cap\u2019s first row",
  "sleeve.cuff_stitches": "Sleeve, stitches at the cuff",
  "sleeve.length": "Sleeve, length",
  "sleeve.cuff_length": "Sleeve, length of the cuff",
  "sleeve.cuff.stitch": "Sleeve, stitch of the cuff",
  "armhole.stitches": "Armhole, stitches before it",
  "armhole.lines": "Armhole, its lines",
  "armhole.back.stitches": "Back armhole, stitches before it",
  "armhole.back.lines": "Back armhole, its lines",
  "armhole.front.stitches": "Front armhole, stitches before it",
  "armhole.front.lines": "Front armhole, its lines",
  "shoulder.live_stitches": "Stitches that wait at the shoulder",
  "body.table": "Table of bodies",
  "body.bust": "Bust or chest",
  "wording.terms": "Terms",
};

const nameOf = (key) => NAMES[key] ?? keyOf(key)?.label ?? key;

/** The pattern that the work came from, or nothing. */
export const pattern = () => state.shelf[state.leaflet] ?? null;

const value = (key) => String(state.values[key] ?? "");

/** True when a person has answered what the print left open. */
const settled = (fact) => state.settled.includes(fact.key) || value(fact.key) !== fact.typed || (byMeasures(fact.key) && value("armhole.edge") !== "");

/** An armhole whose lines are not printed can be given by its measures. */
const byMeasures = (key) => /^armhole\.(?:stitches|lines)$/.test(key) && state.on["armhole.by"] !== "lines";

/** Facts that are still open. */
const open = (leaflet) => leaflet.facts.filter((fact) => fact.status !== "sure" && !settled(fact));

/** True for the lines of a cap alone: no cast-on, no gauge. */
const isCap = (text) => !/\bcast(?:ing)?[\s-]+on\b|\bCO\b|\bgauge\b|\btension\b/i.test(text) && /\b(?:bind|cast)(?:ing)?[\s-]+off\b|\bBO\b/i.test(text);

/** Takes a pasted text: a cap's lines alone go to `cap`, anything more is read as a pattern. */
export async function takeText(text, cap) {
  if (isCap(text)) cap(text);
  else await take({ print: text });
}

const base64 = (file) =>
  new Promise((resolve, reject) => {
    const reader = new FileReader();
    reader.onload = () => resolve(reader.result.slice(reader.result.indexOf(",") + 1));
    reader.onerror = () => reject(new Error(`${file.name} cannot be read.`));
    reader.readAsDataURL(file);
  });

const MAGIC = [
  ["a picture", /^(?:\x89PNG|\xff\xd8\xff|GIF8|RIFF[^]{4}WEBP|II\*\0|MM\0\*|BM[^]{4}\0{4}|[^]{4}ftyp(?:hei|hev|mif|avif))/],
  ["an archive or a document of an office program", /^PK\x03\x04|^\xd0\xcf\x11\xe0/],
];

/** What a file is that holds no words to read, by its first bytes. */
async function wordless(file) {
  const bytes = new Uint8Array(await file.slice(0, 16).arrayBuffer());
  const start = String.fromCharCode(...bytes);
  return MAGIC.find(([, looks]) => looks.test(start))?.[0];
}

/** Opens any file: a saved case or worksheet, or a whole pattern as text or PDF. */
export async function openAny(file) {
  try {
    const start = await file.slice(0, 4096).text();
    const what = await wordless(file);
    if (what) throw new Error(`${file.name} is ${what}: copy the words of the pattern and paste them here.`);
    if (start.startsWith("%PDF")) {
      if (file.size > MOST_PDF) throw new Error(`${file.name} is larger than 20 MB; save its text and paste that.`);
      await take({ pdf: await base64(file) });
    } else if (/^\s*</.test(start) || /\.toml$/i.test(file.name) || /^\s*(?:\[\w|(?:title|units|sizes)\s*=)/m.test(start)) {
      await openCase(file);
    } else if (/^\s*(?:\{\s*["}]|\[\s*[[{"\]\d])/.test(start)) {
      throw new Error(`${file.name} is JSON: neither a case, which is a text of keys such as units = "cm", nor a pattern.`);
    } else if (file.size > MOST_TEXT || start.includes("\0")) {
      throw new Error(`${file.name} is neither a case nor the text of a pattern.`);
    } else {
      await take({ print: await readable(file) });
    }
  } catch (error) {
    notice(`${error.message} What you had is untouched.`);
  }
}

/** The text of a file; old ones are in Latin-1. */
async function readable(file) {
  const bytes = await file.arrayBuffer();
  try {
    return new TextDecoder("utf-8", { fatal: true }).decode(bytes);
  } catch {
    return new TextDecoder("latin1").decode(bytes);
  }
}

/** `which`: one of several garments or sleeves by its number. */
async function take(sent, which = {}) {
  say("Reading the pattern.");
  const answer = await ask("leaflet", { ...sent, ...which });
  if (!answer) return;
  const sentence = answer.error || answer.refused;
  if (sentence) {
    if (answer.garments?.length) notice(sentence, garments(answer));
    else notice(`${sentence} What you had is untouched.`);
    return;
  }
  notice("");
  load(answer.case, null, { print: answer.print, facts: answer.facts, construction: answer.construction, sleeves: answer.sleeves, which });
  const left = open(pattern()).length;
  say(`The pattern was read: ${answer.facts.length - left} facts are sure, ${left} are open.`);
  document.getElementById(which.sleeve ? `sleeve-${which.sleeve}` : "h-leaflet")?.focus();
}

/** The garments of a text as buttons; the first has the focus, since the choice is what comes next. */
function garments(answer) {
  const list = h(
    "ul",
    { className: "row-of-buttons", id: "garments", "aria-label": "Garments in this text" },
    answer.garments.map((title, place) => h("li", {}, h("button", { type: "button", "data-garment": place + 1, onclick: () => take({ print: answer.print }, { garment: place + 1 }) }, title))),
  );
  setTimeout(() => list.querySelector("button")?.focus());
  return list;
}

/** The sleeves with a cap as a choice; without a word the first is taken. */
const sleeves = (leaflet) =>
  (leaflet.sleeves ?? []).length > 1 &&
  choices(
    "Several sleeves have a cap of their own",
    "sleeve",
    leaflet.sleeves.map((name, place) => [String(place + 1), name]),
    String(leaflet.which?.sleeve ?? 1),
    (number) => take({ print: leaflet.print }, { ...leaflet.which, sleeve: Number(number) }),
    "Another one is read anew: what you typed since is undone, and Undo brings it back.",
  );

const words = (fact) => fact.evidence.map((at) => h("p", { className: "words" }, h("span", { className: "at" }, `Page ${at.page}, line ${at.line}: `), h("q", {}, at.text)));

/** The mark of a field that a pattern filled: the words it came from. */
export function mark(path) {
  const fact = pattern()?.facts.find((one) => one.key === path);
  if (!fact || fact.evidence.length + fact.why.length === 0) return null;
  const unsure = fact.status !== "sure" && !settled(fact);
  const changed = fact.typed !== "" && value(path) !== fact.typed;
  const name = fact.status === "missing" ? "not in the pattern" : unsure ? "from the pattern, unsure" : changed ? "changed by you" : "from the pattern";
  return h("details", { className: unsure ? "from unsure" : "from", "data-from": path }, h("summary", {}, name, h("span", { className: "unseen" }, `: ${nameOf(path)}`)), words(fact), fact.why && h("p", { className: "why" }, fact.why));
}

/** Brings the field for this key into view, and the cursor into it. */
function goTo(key) {
  if (key === "gauge.round.stitches" && !state.on["gauge.round"]) change(null, () => void (state.on["gauge.round"] = true), "form");
  const field = document.getElementById(idOf(key));
  for (let part = field?.closest("details"); part; part = part.parentElement.closest("details")) part.open = true;
  field?.focus();
}

const settle = (keys) => change(null, () => void (state.settled = [...state.settled, ...keys]), "form");

/** Open facts that have the same reason are one question. */
function questions(facts) {
  const groups = new Map();
  for (const fact of facts) groups.set(fact.why, [...(groups.get(fact.why) ?? []), fact]);
  return [...groups.values()].map(question);
}

function question(facts) {
  const [fact] = facts;
  const keys = facts.map((one) => one.key);
  const missing = fact.status === "missing";
  const key = byMeasures(fact.key) ? "armhole.edge" : fact.key;
  const there = document.getElementById(idOf(key));
  const name = (one) => h("p", {}, h("strong", {}, nameOf(one.key)), one.typed && !one.typed.includes("\n") && `: ${one.typed}`);
  return h(
    "li",
    { "data-open": keys.join(" ") },
    facts.map((one) => [name(one), words(one)]),
    h("p", { className: "why" }, fact.why),
    h(
      "p",
      { className: "row-of-buttons" },
      there && h("button", { type: "button", onclick: () => goTo(key) }, missing ? "Fill it in" : "Show the field"),
      h("button", { type: "button", onclick: () => settle(keys) }, missing ? "Leave it out" : facts.length > 1 ? "They are right" : "It is right"),
    ),
  );
}

/** The knitter's own swatch stands on no page. */
const swatch = () =>
  !(state.on["gauge.round"] && value("gauge.round.stitches") && value("gauge.round.rows")) &&
  h("li", { "data-open": "gauge.round" }, h("p", {}, h("strong", {}, "Your own swatch in rounds")), h("p", { className: "why" }, "No page holds it: count stitches and rounds over 10 cm or 4 in of your own knitting."), h("p", { className: "row-of-buttons" }, h("button", { type: "button", onclick: () => goTo("gauge.round.stitches") }, "Fill it in")));

const AMENDED = [
  ["amended-txt", "Marked, as text"],
  ["amended-html", "Marked, as a page"],
  ["amended-plain", "The new text alone"],
];

async function saveAmended(kind) {
  await saveOf({ kind, size: null, case: toCase(), print: pattern().print, ...pattern().which });
}

/** What the pattern said, above the form. */
export function panel(root) {
  const leaflet = pattern();
  root.hidden = !leaflet;
  if (!leaflet) {
    fill(root);
    return;
  }
  const left = open(leaflet);
  const asked = [questions(left), swatch()].flat().filter(Boolean);
  const sure = leaflet.facts.length - left.length;
  fill(
    root,
    h("h2", { id: "h-leaflet", tabIndex: -1 }, "What the pattern said"),
    h("p", {}, `${sure} of ${leaflet.facts.length} facts are sure${sizeLabels().length > 1 ? `, for ${sizeLabels().length} sizes` : ""}. Each field has a mark that shows the words it came from.`),
    sleeves(leaflet),
    asked.length > 0 && [h("h3", { id: "h-open" }, "Still to answer"), h("ul", { className: "open", "aria-labelledby": "h-open" }, asked)],
    h("details", { className: "more" }, h("summary", {}, "All that was found"), h("dl", {}, leaflet.facts.filter((fact) => fact.status !== "missing").map((fact) => h("div", {}, h("dt", {}, nameOf(fact.key)), h("dd", {}, fact.typed.includes("\n") ? "the lines in their field" : fact.typed || fact.value, words(fact)))))),
    h("h3", { id: "h-amended" }, "The pattern with the new sleeve in it"),
    h("p", { className: "help" }, "Every change is marked with its reason; the rest stays as printed. It may be published only by whoever holds the rights in the pattern."),
    h("p", { className: "row-of-buttons" }, AMENDED.map(([kind, label]) => h("button", { type: "button", "data-amended": kind, onclick: () => saveAmended(kind) }, label))),
  );
}

/** The kinds of files that can be opened. */
export const accepted = () => (told().leaflet_pdf ? ".toml,.html,.htm,.txt,.pdf" : ".toml,.html,.htm,.txt");
