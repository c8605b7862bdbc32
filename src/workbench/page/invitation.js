// First contact: one thing to do, and other ways to begin beside it.
import { h } from "./dom.js";
import { accepted, openAny, takeText } from "./leaflet.js";
import { change, isEmpty, state, told } from "./state.js";

/** Takes pasted lines as the old cap and goes on to the first answer. */
function paste(text) {
  change(
    null,
    () => {
      state.values["sleeve.cap"] = text;
      state.values.units ??= unitsIn(text);
      state.place = "old";
    },
    "form",
  );
  document.getElementById("f-sleeve-stitches")?.focus();
}

/** The units that the lines speak of; centimetres where they name none. */
const unitsIn = (text) => (/\d\s*(?:"|\u201d|\u2033|in\b|ins\b|inch)/i.test(text) && !/\d\s*cm\b/i.test(text) ? "in" : "cm");

/** A sleeve without an old cap: the armhole is all there is. */
function draft() {
  change(
    null,
    () => {
      state.on["cap.none"] = true;
      state.on.adapt = true;
      state.values.units ??= "cm";
      state.place = "old";
    },
    "form",
  );
}

export function invitation() {
  const area = h("textarea", {
    id: "paste",
    rows: 8,
    spellcheck: false,
    autocomplete: "off",
    "aria-describedby": "paste-help",
    placeholder: "GAUGE 22 sts and 30 rows = 4 in ... BACK Cast on 98 sts ... SLEEVES Cast on 44 sts ...",
    // What is pasted goes on at once; what is typed when the field is left.
    onpaste: () =>
      setTimeout(() => {
        if (area.value.trim()) take();
      }),
    onchange: () => take(),
  });
  const take = () => {
    const text = area.value;
    if (!text.trim()) return;
    // What could not be read stays where it was pasted.
    takeText(text, paste).then(() => isEmpty() || (area.value = ""));
  };
  const input = h("input", {
    type: "file",
    id: "open-pattern",
    className: "unseen",
    accept: accepted(),
    onchange: () => {
      if (input.files[0]) openAny(input.files[0]);
      input.value = "";
    },
  });
  return h(
    "section",
    { id: "invitation", className: "invitation", "aria-labelledby": "h-invitation" },
    h("h2", { id: "h-invitation" }, h("label", { htmlFor: "paste" }, "Paste or drop your old pattern here")),
    h("p", { className: "help", id: "paste-help" }, `The whole of it${told().leaflet_pdf ? ", as text or PDF" : ""}: the fields fill themselves, and what is left to answer is asked for. Its sleeve section alone will do, or the lines of the cap. A saved case or worksheet can be dropped anywhere on this page, too.`),
    area,
    h("p", { className: "row-of-buttons" }, h("button", { type: "button", className: "main", onclick: take }, "Read it"), h("label", { htmlFor: "open-pattern", className: "button" }, "Open a file"), input, h("button", { type: "button", onclick: draft }, "There is no old cap: draft one")),
  );
}

/** A file dropped on the page, or a text. */
export async function drop(event) {
  event.preventDefault();
  const file = event.dataTransfer?.files?.[0];
  if (file) {
    await openAny(file);
    return;
  }
  const text = event.dataTransfer?.getData("text/plain") ?? "";
  if (text.trim() && isEmpty()) await takeText(text, paste);
}
