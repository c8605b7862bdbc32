// Words of the trade and of this page, explained where they stand: to the pointer, to a tap, to the keyboard.
import { h } from "./dom.js";

const WORDS = {
  "turn pair": "One row on the right side and one on the wrong side, each ended by a turn. The cap grows two rows deeper with every pair.",
  crown: "The stitches picked up first, centred on the shoulder. The first short row spans them.",
  run: "Equal turns in a row: what you have to remember while you knit them. Fewer runs are easier, more follow the old outline closer.",
  "edge on armhole": "How much longer (+) or shorter (\u2212) the cap\u2019s edge is than the armhole it is picked up along. A few per cent are eased in as you pick up.",
  "off the width": "How far half the cap\u2019s width is off the outline it keeps, on average over its depth.",
  decreases: "Picked-up stitches worked together at the turns, because the armhole gives more stitches than the cap needs.",
  "common recipe": "What is commonly done without any fitting: a stitch for every two rows, turns at every stitch, a few decreases at the end. It stands here to compare.",
  depth: "From the top of the cap straight down to the line of the underarm.",
  "upper arm": "All the way round the finished sleeve where the cap begins.",
};

/** A word that can be asked about. */
export function term(word, text) {
  const told = WORDS[word];
  const tip = h("span", { className: "tip", role: "note" }, told);
  return h(
    "span",
    { className: "explain" },
    h("button", { type: "button", className: "term", title: told, onclick: (event) => event.currentTarget.focus(), onkeydown: (event) => event.key === "Escape" && event.currentTarget.blur() }, text),
    tip,
  );
}
