// The fabric map: the turn pair under the pointer or the keyboard, in words.
import { fill, h } from "./dom.js";
import { show } from "./figures.js";

let chosen = 1;

export function pairs(root, figure, save) {
  root.hidden = !figure;
  if (!figure) return;
  const element = show(figure, save);
  const strips = [...element.querySelectorAll("[data-pair]")];
  const most = Math.max(1, ...strips.map((strip) => Number(strip.dataset.pair)));
  const words = new Map();
  for (const strip of strips) {
    const title = strip.querySelector(":scope > title");
    if (title) words.set(Number(strip.dataset.pair), title.textContent);
  }
  chosen = Math.min(chosen, most);
  const said = h("output", { className: "explained", htmlFor: "pair" });
  const range = h("input", { id: "pair", type: "range", min: 1, max: most, step: 1, value: chosen, oninput: () => choose(Number(range.value)) });
  const choose = (pair) => {
    chosen = pair;
    range.value = pair;
    for (const strip of strips) strip.classList.toggle("lit", Number(strip.dataset.pair) === pair);
    said.textContent = words.get(pair) ?? `Turn pair ${pair} of ${most}`;
    range.setAttribute("aria-valuetext", said.textContent);
  };
  for (const strip of strips) {
    strip.addEventListener("pointerenter", () => choose(Number(strip.dataset.pair)));
    strip.addEventListener("click", () => choose(Number(strip.dataset.pair)));
  }
  fill(root, h("label", { htmlFor: "pair" }, "Turn pair, from the shoulder down"), range, said, element);
  choose(chosen);
}
