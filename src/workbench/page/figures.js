// Figures as the server draws them, each with its words and a button to save it.
import { fill, h } from "./dom.js";

/** The SVG of a figure as an element. */
export function drawing(figure) {
  const parsed = new DOMParser().parseFromString(figure.svg, "image/svg+xml");
  const svg = document.importNode(parsed.documentElement, true);
  svg.removeAttribute("width");
  svg.removeAttribute("height");
  return svg;
}

/** A figure with its caption, its description in words, and a way to save it. */
export function show(figure, save) {
  return h(
    "figure",
    { className: `figure ${figure.kind}`, "data-figure": figure.name },
    h("div", { className: "card" }, drawing(figure)),
    h(
      "figcaption",
      {},
      h("details", {}, h("summary", {}, "In words"), h("p", {}, figure.description)),
      save && h("button", { type: "button", className: "quiet", onclick: () => save(figure) }, "Save as SVG"),
    ),
  );
}

/** Fills a place with the figures of these kinds, in this order. */
export function place(root, figures, kinds, save) {
  const found = kinds.flatMap((kind) => figures.filter((figure) => figure.kind === kind));
  fill(root, found.map((figure) => show(figure, save)));
  root.hidden = found.length === 0;
  return found.length > 0;
}
