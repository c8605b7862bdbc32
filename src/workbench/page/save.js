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
  ["json", "Everything (JSON)", "for other programs"],
];

/** The buttons for files. */
export function buttons() {
  return FILES.filter(([kind]) => kind !== "pdf" || told().pdf).map(([kind, label, help]) =>
    h("p", { className: "file row-of-buttons" }, h("button", { type: "button", "data-file": kind, onclick: () => save({ kind }) }, label), kind === "pdf" && paper(), h("span", { className: "help" }, help)),
  );
}

const paper = () =>
  h("label", {}, h("span", { className: "unseen" }, "Paper"), h("select", { id: "paper" }, h("option", { value: "a4" }, "A4"), h("option", { value: "letter" }, "US letter")));

async function save(more) {
  const size = state.size === -1 || more.kind === "toml" || sizeLabels().length < 2 ? null : state.size;
  const failed = await download({ case: toCase(), size, paper: document.getElementById("paper")?.value, ...more });
  notice(failed);
  if (!failed) say("The file was saved.");
}

export const saveFigure = (figure) => save({ kind: "svg", figure: figure.name });

/** Saves what this request describes. */
export const saveOf = (sent) => save(sent);

export async function copyText(text) {
  try {
    await navigator.clipboard.writeText(text);
    say("Copied.");
    notice("");
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

/** A case file that was chosen, as a form; a sentence when it is none. */
export async function formOf(file) {
  try {
    const answer = await ask("open", { toml: await readFile(file) }, `open ${file.name}`);
    if (!answer || answer.error) return { error: answer?.error ?? "" };
    const broken = answer.case_findings.find((finding) => finding.code === "case-syntax");
    if (broken) return { error: `${file.name}: ${broken.message} ${broken.next}` };
    return { form: answer.case };
  } catch (error) {
    return { error: error.message };
  }
}

async function open(file) {
  const { form, error } = await formOf(file);
  if (error) {
    notice(`${error} What you had is untouched.`);
    return;
  }
  notice("");
  load(form);
  show(() => void (state.door = "pattern"), "door");
}

/** The tools above the form: open a file, take one of our cases, begin with nothing. */
export function starts(root) {
  const input = h("input", {
    type: "file",
    id: "open-file",
    className: "unseen",
    accept: ".toml",
    onchange: () => {
      if (input.files[0]) open(input.files[0]);
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
        if (form) load(form);
      },
    },
    h("option", { value: "" }, "Start from one of our cases"),
    told().cases.map((form, place) => h("option", { value: String(place) }, form.title)),
  );
  fill(
    root,
    h("label", { htmlFor: "open-file", className: "button" }, "Open a case file"),
    input,
    h("label", { htmlFor: "our-cases", className: "unseen" }, "Our cases"),
    cases,
    h("button", { type: "button", id: "start-empty", onclick: () => load({ units: state.values.units ?? "cm", wording: { terms: state.values["wording.terms"] ?? "us" } }) }, "Start empty"),
  );
}
