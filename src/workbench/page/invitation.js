// First contact: one thing to do, and other ways to begin beside it.
import { fill, h, notice } from "./dom.js";
import { open } from "./save.js";
import { change, isEmpty, show, state } from "./state.js";

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
    placeholder: "Bind off 5 sts at the beginning of the next 2 rows. ...",
    // What is pasted goes on at once; what is typed when the field is left.
    onpaste: () =>
      setTimeout(() => {
        if (area.value.trim()) take();
      }),
    onchange: () => take(),
  });
  const take = () => {
    const text = area.value.trim();
    if (!text) return;
    area.value = "";
    paste(text);
  };
  return h(
    "section",
    { id: "invitation", className: "invitation", "aria-labelledby": "h-invitation" },
    h("h2", { id: "h-invitation" }, h("label", { htmlFor: "paste" }, "Paste the sleeve cap of your old pattern")),
    h("p", { className: "help", id: "paste-help" }, "Its own lines, from the first stitches bound off (cast off) at the underarm to the last ones at the top. Six more answers make a pattern. A saved case or worksheet can be dropped anywhere on this page."),
    area,
    h("p", { className: "row-of-buttons" }, h("button", { type: "button", className: "main", onclick: take }, "Read these lines"), h("button", { type: "button", onclick: draft }, "There is no old cap: draft one")),
  );
}

/** A file dropped on the page, or a text. */
export async function drop(event) {
  event.preventDefault();
  const file = event.dataTransfer?.files?.[0];
  if (file) {
    await open(file);
    return;
  }
  const text = event.dataTransfer?.getData("text/plain") ?? "";
  if (text.trim() && isEmpty()) paste(text.trim());
}
