// The pattern to knit: one step under another, large enough for a telephone, each with a box to tick off; what only explains has none.
import { h } from "./dom.js";
import { show, state } from "./state.js";

const MOST_TICKS = 600;

const mark = (size, which, step) => `${size}/${which}/${step}`;

function tick(name, on) {
  show(() => {
    const others = state.ticks.filter((known) => known !== name);
    state.ticks = on ? [...others, name].slice(-MOST_TICKS) : others;
  });
}

/** One sleeve: what comes before, its sentences with boxes, headings (in capitals) as headings. */
function sleeve(size, one, which, alone) {
  const before = [...(one.before ?? []), ...(one.needles ?? [])];
  return h(
    "div",
    { className: "steps" },
    !alone && h("h4", {}, `${one.sleeve[0].toUpperCase()}${one.sleeve.slice(1)} sleeve`),
    before.length > 0 && h("details", { open: true }, h("summary", {}, "Before you begin"), before.map((sentence) => h("p", {}, sentence))),
    one.instructions.map((sentence, place) => (one.explains?.includes(place) ? h("p", { className: "explains" }, sentence) : step(size, which, sentence, place))),
    (one.pick_up_rows ?? []).length > 0 && h("details", {}, h("summary", {}, "Rows that get a stitch, counted"), one.pick_up_rows.map((list) => h("p", {}, h("strong", {}, `${list.section}, ${list.of} rows ${list.counted_from}: `), list.rows.join(", ")))),
    (one.abbreviations ?? []).length > 0 && h("details", {}, h("summary", {}, "Abbreviations"), h("dl", {}, one.abbreviations.map(({ short, meaning }) => [h("dt", {}, short), h("dd", {}, meaning)]))),
  );
}

function step(size, which, sentence, place) {
  if (/^[A-Z ,]+$/.test(sentence)) return h("h4", {}, sentence[0] + sentence.slice(1).toLowerCase());
  const name = mark(size.size, which, sentence);
  const [words, count] = split(sentence);
  const id = `step-${which}-${place}`;
  return h(
    "p",
    { className: "step" },
    h("input", { type: "checkbox", id, checked: state.ticks.includes(name), onchange: (event) => tick(name, event.target.checked) }),
    h("label", { htmlFor: id }, words, count && h("span", { className: "count" }, ` ${count}`)),
  );
}

/** A sentence and the count in brackets at its end. */
function split(sentence) {
  const found = /^(.*?)\s*(\[[^\]]*\])$/.exec(sentence);
  return found ? [found[1], found[2]] : [sentence, ""];
}

/** The pattern of one size, as steps. */
export function knitting(size) {
  const sleeves = size.sleeves?.length ? size.sleeves : [{ instructions: size.instructions }];
  return h("div", { id: "knitting" }, sleeves.map((one, which) => sleeve(size, one, which, sleeves.length === 1)));
}
