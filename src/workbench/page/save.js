// Out of the page and into it: files, the clipboard, the printer.
import { ask, download } from "./ask.js";
import { fill, h, notice, say } from "./dom.js";
import { load, show, sizeLabels, state, toCase, told } from "./state.js";

const FILES = [
  ["toml", "Case (TOML)", "to open again here or with the commands"],
  ["txt", "Pattern (text)", "what is shown under Pattern"],
  ["html", "Worksheet (HTML)", "with figures and boxes to tick off; opens in any browser"],
  ["pdf", "Worksheet (PDF)", "the same for the printer"],
  ["csv", "Rows to tick off (CSV)", "for a table program"],
  ["together", "All sizes in one text", "numbers in brackets, in the order of the sizes"],
  ["grading", "Grading (text)", "all sizes side by side, what is out of step"],
  ["grading-csv", "Grading (CSV)", "the same for a table program"],
  ["json", "Everything (JSON)", "for other programs"],
];

let gone;

/** Says for a moment that something was done, where it is seen. */
function confirm(sentence) {
  const place = document.getElementById("done");
  place.textContent = sentence;
  place.hidden = false;
  clearTimeout(gone);
  gone = setTimeout(() => void (place.hidden = true), 2500);
}

/** The buttons for files. */
export function buttons() {
  return FILES.filter(([kind]) => kind !== "pdf" || told().pdf).map(([kind, label, help]) =>
    h("p", { className: "file row-of-buttons" }, h("button", { type: "button", "data-file": kind, onclick: () => save({ kind }) }, label), kind === "pdf" && paper(), h("span", { className: "help" }, help)),
  );
}

/** What is about all sizes whichever is looked at. */
const OF_ALL = ["toml", "together", "grading", "grading-csv"];

const paper = () =>
  h("label", {}, h("span", { className: "unseen" }, "Paper"), h("select", { id: "paper" }, h("option", { value: "a4" }, "A4"), h("option", { value: "letter" }, "US letter")));

async function save(more) {
  const size = state.size === -1 || OF_ALL.includes(more.kind) || sizeLabels().length < 2 ? null : state.size;
  const failed = await download({ case: toCase(), size, paper: document.getElementById("paper")?.value, ...more });
  notice(failed);
  if (!failed) {
    say("The file was saved.");
    confirm("Saved.");
  }
}

export const saveFigure = (figure) => save({ kind: "svg", figure: figure.name });

/** Saves what this request describes. */
export const saveOf = (sent) => save(sent);

export async function copyText(text) {
  try {
    await navigator.clipboard.writeText(text);
    say("Copied.");
    confirm("Copied.");
  } catch {
    getSelection().selectAllChildren(document.getElementById("pattern-text"));
    notice("The browser does not let a page copy; the text is selected, press Ctrl+C.");
  }
}

/** Prints only this part of the page. */
export function print(what) {
  document.body.dataset.print = what;
  window.print();
}

/** Reads a file that was chosen; never more than a case can have. */
export function readFile(file) {
  return new Promise((resolve, reject) => {
    if (file.size > 1024 * 1024) {
      reject(new Error(`${file.name} is larger than 1 MB; that is no case file.`));
      return;
    }
    const reader = new FileReader();
    reader.onload = () => resolve(reader.result);
    reader.onerror = () => reject(new Error(`${file.name} cannot be read.`));
    reader.readAsText(file);
  });
}

/** The case that a worksheet carries: the same text as its file. */
function caseIn(text) {
  // Styles of the worksheet are none of this page's.
  const plain = text.replace(/<style[^]*?<\/style>/gi, "").replace(/ style="[^"]*"/gi, "");
  const inside = new DOMParser().parseFromString(plain, "text/html");
  const blocks = [...inside.querySelectorAll("pre, script, template, textarea")].map((block) => block.textContent);
  return blocks.findLast((block) => /^\s*\[gauge\.pattern\]/m.test(block) && /^\s*\[armhole/m.test(block));
}

/** A case that was chosen (its file, or a worksheet that carries it), as a form; a sentence when it is none. */
export async function formOf(file) {
  try {
    const text = await readFile(file);
    const page = /^\s*</.test(text);
    const toml = page ? caseIn(text) : text;
    if (toml === undefined) return { error: `${file.name} is a page without a case in it.` };
    if (/^\s*[{%]/.test(toml)) return { error: `${file.name} is no case: ${toml.trimStart().startsWith("%PDF") ? "it is a PDF; open the worksheet as HTML, or the case" : "a case is a text of keys such as units = \"cm\""}.` };
    const answer = await ask("open", { toml }, `open ${file.name}`);
    if (!answer || answer.error) return { error: answer?.error ?? "" };
    const broken = answer.case_findings.find((finding) => finding.code === "case-syntax");
    if (broken) return { error: `${file.name}: ${broken.message} ${broken.next}` };
    return { form: answer.case };
  } catch (error) {
    return { error: error.message };
  }
}

/** Opens a file in place of the work. */
export async function open(file) {
  const { form, error } = await formOf(file);
  if (error) {
    notice(`${error} What you had is untouched.`);
    return;
  }
  notice("");
  load(form);
  state.guest = false;
  show(() => void (state.door = "pattern"), "door");
}

/** The tools above the form: open a file, take one of our cases, begin with nothing. */
export function starts(root, openAny, accepted) {
  const input = h("input", {
    type: "file",
    id: "open-file",
    className: "unseen",
    accept: accepted,
    onchange: () => {
      if (input.files[0]) openAny(input.files[0]);
      input.value = "";
    },
  });
  const cases = h(
    "select",
    {
      id: "our-cases",
      onchange: (event) => {
        const form = told().cases[Number(event.target.value)];
        event.target.value = "";
        if (form) {
          load(form);
          show(() => void (state.guest = true));
        }
      },
    },
    h("option", { value: "" }, "See an example"),
    told().cases.map((form, place) => h("option", { value: String(place) }, form.title)),
  );
  fill(
    root,
    h("label", { htmlFor: "open-file", className: "button" }, "Open a case or a pattern"),
    input,
    h("label", { htmlFor: "our-cases", className: "unseen" }, "Examples"),
    cases,
    h("button", { type: "button", id: "start-empty", onclick: () => load({ units: state.values.units ?? "cm", wording: { terms: state.values["wording.terms"] ?? "us" } }) }, "Start empty"),
  );
}
