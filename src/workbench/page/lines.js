// The pattern's own lines: words underlined where something is wrong, the ledger and the findings
// beside them, repairs as buttons.
import { ways as advised } from "./advice.js";
import { fill, h, idOf, wide } from "./dom.js";
import { humane, levelWord, whose } from "./fields.js";
import { mark } from "./leaflet.js";
import { change, keyOf, set, sizeLabels, state } from "./state.js";

const editors = new Map();

/** The editor for the lines at this path. */
export function linesField(path) {
  const key = keyOf(path);
  const id = idOf(path);
  const mirror = h("div", { className: "mirror", "aria-hidden": "true" });
  const area = h("textarea", {
    id,
    "data-input": path,
    "aria-describedby": `${id}-help ${id}-found`,
    spellcheck: false,
    autocomplete: "off",
    rows: 6,
    value: state.values[path] ?? "",
    placeholder: "Bind off 5 sts at the beginning of the next 2 rows (64 sts). ...",
    oninput: (event) => {
      set(path, event.target.value);
      draw(editors.get(path), []);
    },
  });
  const found = h("div", { className: "found", id: `${id}-found` });
  const ledger = h("div", { className: "ledger" });
  const editor = { path, area, mirror, found, ledger, marks: [], row: null };
  editors.set(path, editor);
  draw(editor, []);
  return h(
    "div",
    { className: "field lines", "data-path": path },
    h("label", { htmlFor: id }, key.label),
    h("p", { className: "help", id: `${id}-help` }, key.help),
    mark(path),
    h("div", { className: "paper" }, mirror, area),
    h("div", { className: "wrong" }),
    found,
    ledger,
  );
}

/** Takes away editors whose fields are gone. */
export function forget() {
  editors.clear();
}

/** Shows what was read, by path. */
export function showLines(read) {
  for (const [path, editor] of editors) {
    const told = read?.[path];
    if (!told) {
      draw(editor, []);
      fill(editor.found);
      fill(editor.ledger);
      continue;
    }
    draw(editor, told.findings);
    fill(editor.found, keepCap(editor, told.findings), findings(editor, merged(told.findings)));
    fill(editor.ledger, table(editor, told.rows));
  }
}

export const READING = /write (\w+) = "second" under \[readings\][^.;]*/;

/** One entry for what is said alike of several sizes. */
export function merged(findings) {
  const all = [];
  for (const finding of findings) {
    const same = all.find((other) => other.code === finding.code && String(other.at) === String(finding.at) && shape(other) === shape(finding));
    if (same) {
      same.sizes.push(finding.size);
      same.differs ||= same.message !== finding.message;
    } else all.push({ ...finding, sizes: [finding.size] });
  }
  return all;
}

const shape = (finding) => finding.message.replace(/\d+/g, "0");

function draw(editor, marks) {
  editor.marks = marks;
  const text = editor.area.value;
  const cuts = new Set([0, text.length]);
  const spans = marks.filter((mark) => mark.at).map((mark) => ({ at: mark.at, name: `underlined ${mark.level}` }));
  if (editor.row) spans.push({ at: editor.row, name: "row" });
  for (const span of spans) span.at.forEach((place) => cuts.add(Math.min(place, text.length)));
  const places = [...cuts].sort((a, b) => a - b);
  const parts = places.slice(1).map((to, index) => {
    const from = places[index];
    const here = spans.filter((span) => span.at[0] <= from && to <= Math.max(span.at[1], span.at[0] + 1));
    const names = [...new Set(here.map((span) => span.name))];
    const piece = text.slice(from, to);
    return names.length ? h("mark", { className: names.join(" ") }, piece) : piece;
  });
  fill(editor.mirror, parts, "\n ");
}

function findings(editor, list) {
  if (list.length === 0) return null;
  return h(
    "ul",
    { className: "findings" },
    list.map((finding) => {
      return h(
        "li",
        { className: `said ${finding.level}` },
        h("p", {}, h("strong", {}, `${levelWord(finding.level)}: `), whose(finding), humane(finding).message, " ", h("span", { className: "next" }, humane(finding).next)),
        h(
          "p",
          { className: "row-of-buttons" },
          finding.repairs.map((repair) =>
            h(
              "button",
              {
                type: "button",
                className: "repair",
                onclick: () => mend(editor, repair),
                onfocus: light(editor, repair.at),
                onblur: light(editor, null),
                onpointerenter: light(editor, repair.at),
                onpointerleave: light(editor, null),
              },
              repairText(repair),
            ),
          ),
          makeSizes(editor, finding),
          otherReading(finding),
          advised(finding),
          finding.at && h("button", { type: "button", className: "quiet", onclick: () => select(editor, finding.at) }, "Show the words"),
        ),
      );
    }),
  );
}

const BIND_OFF = /\b(?:bind|cast)(?:ing)?[\s-]+off\b|\bBO\b/gi;
const CLOSES = /(?:\b(?:bind|cast)(?:ing)?[\s-]+off|\bBO)\s+(?:the\s+)?(?:rem|last|all\b)/gi;

/** Where the sentences begin and end that go from the first bind-off to the one that closes; nothing without both. */
export function capOf(text) {
  const first = [...text.matchAll(BIND_OFF)][0];
  const last = [...text.matchAll(CLOSES)].at(-1);
  if (!first || !last || last.index <= first.index) return null;
  // A full stop in `sts.` goes on with a small letter.
  const before = [...text.slice(0, first.index).matchAll(/\n|[.:;]\s+(?=\S*$|[^a-z])/g)].at(-1);
  const after = /\n|\.(?=\s+[^a-z]|\s*$)/.exec(text.slice(last.index));
  const from = before ? before.index + before[0].length : 0;
  return [from, after ? last.index + after.index + Number(after[0] === ".") : text.length];
}

/** Where more than the cap was pasted and the rest is in the way: keeps the cap's own lines. */
function keepCap(editor, found) {
  const text = editor.area.value;
  const cap = capOf(text);
  const outside = (finding) => finding.level === "error" && finding.at && (finding.at[1] <= cap[0] || finding.at[0] >= cap[1]);
  if (!cap || !found.some(outside)) return null;
  const keep = () => {
    editor.area.value = text.slice(...cap);
    set(editor.path, editor.area.value);
    draw(editor, []);
  };
  return h("p", { className: "row-of-buttons" }, h("button", { type: "button", className: "repair", onclick: keep }, "Keep only the cap: from the first bind-off to the one that closes"));
}

/** Wordings that have two readings: the other one, as a button. */
function otherReading(finding) {
  const key = READING.exec(finding.next)?.[1];
  // What the stated counts prove has no other reading.
  if (!key || !keyOf(`readings.${key}`) || /proves it/.test(finding.message)) return null;
  const other = state.values[`readings.${key}`] === "second" ? "first" : "second";
  return h("button", { type: "button", className: "repair", onclick: () => set(`readings.${key}`, other) }, "Read it the other way");
}

/** A list with more numbers than there are sizes, while no size was named: makes as many. */
function makeSizes(editor, finding) {
  if (!/list-length/.test(finding.code) || !finding.at || sizeLabels().length > 1) return null;
  const many = (editor.area.value.slice(...finding.at).match(/\d+(?:\.\d+)?/g) ?? []).length;
  if (many < 2 || many > 40) return null;
  const labels = Array.from({ length: many }, (_, place) => String(place + 1)).join(", ");
  const make = () => change(null, () => void (state.values.sizes = labels), "form");
  return h("button", { type: "button", className: "repair", onclick: make }, `It is for ${many} sizes: make them`);
}

function repairText(repair) {
  const [old, fresh] = [repair.old.trim(), repair.text.trim()];
  if (!old) return `Write \u201c${fresh}\u201d there`;
  if (!fresh) return `Leave out \u201c${old}\u201d`;
  return `Change \u201c${old}\u201d to \u201c${fresh}\u201d`;
}

function mend(editor, repair) {
  const text = editor.area.value;
  editor.area.value = text.slice(0, repair.at[0]) + repair.text + text.slice(repair.at[1]);
  set(editor.path, editor.area.value);
  draw(editor, []);
  editor.area.focus();
  editor.area.setSelectionRange(repair.at[0], repair.at[0] + repair.text.length);
}

function select(editor, at) {
  editor.area.focus();
  editor.area.setSelectionRange(...at);
}

/** Lights these words up in the lines. */
const light = (editor, at) => () => {
  editor.row = at;
  draw(editor, editor.marks);
};

function table(editor, rows) {
  if (rows.length === 0) return null;
  const body = rows.map((row) =>
    h(
      "tr",
      { onpointerenter: light(editor, row.at), onpointerleave: light(editor, null) },
      h("th", { scope: "row" }, h("button", { type: "button", className: "quiet", onfocus: light(editor, row.at), onblur: light(editor, null), onclick: () => select(editor, row.at), title: "Show the words this comes from" }, row.rows)),
      h("td", {}, row.what),
      h("td", { className: "number" }, row.left),
    ),
  );
  return h(
    "details",
    { open: true },
    h("summary", {}, "Ledger: what these lines say"),
    wide(
      "Ledger of these lines",
      h(
        "table",
        {},
        h("thead", {}, h("tr", {}, h("th", { scope: "col" }, "Rows"), h("th", { scope: "col" }, "What is done"), h("th", { scope: "col" }, "Stitches left"))),
        h("tbody", {}, body),
      ),
    ),
  );
}

/** Sets the text areas to the values. */
export function refreshLines() {
  for (const [path, editor] of editors) {
    const text = state.values[path] ?? "";
    if (editor.area.value !== text) editor.area.value = text;
    draw(editor, editor.marks);
  }
}
