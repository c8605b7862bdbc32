// "I am teaching this": flat against round, to be projected, and a sheet to hand out.
import { ask } from "./ask.js";
import { choices, fill, h, say, table, tabs } from "./dom.js";
import { NO_DRIFT, driftOf, slider } from "./fields.js";
import { show as showFigure } from "./figures.js";
import { print, saveOf } from "./save.js";
import { show as change, sizeLabels, state, toCase, told, withDrift } from "./state.js";
import { area, difference, inUnits, percent, show, showIn, tidy } from "./units.js";

let built = false;
let timer;

/** Builds the door once, then asks again for what is shown. */
export function teach(root, what) {
  if (!built || what === "door" || what === "form") build(root);
  clearTimeout(timer);
  timer = setTimeout(work, 80);
}

function lesson() {
  const mine = state.lesson === "mine";
  const base = mine ? toCase() : inUnits(told().cases.at(-1), state.values.units ?? "cm");
  return { case: state.lessonDrift === null ? base : withDrift(base, state.lessonDrift), size: mine && sizeLabels().length > 1 ? Math.max(0, state.size) : null };
}

function build(root) {
  built = true;
  fill(
    root,
    h(
      "div",
      { className: "lesson-tools" },
      choices(
        "The sleeve",
        "lesson",
        [
          ["ours", "our lesson"],
          ["mine", "my sleeve"],
        ],
        state.lesson,
        (word) => change(() => void (state.lesson = word), "lesson"),
      ),
      choices(
        "Type",
        "type",
        [
          ["desk", "for the desk"],
          ["wall", "large, for the wall"],
        ],
        state.big ? "wall" : "desk",
        (word) => {
          document.documentElement.classList.toggle("big", word === "wall");
          change(() => void (state.big = word === "wall"), "lesson");
        },
      ),
      slider({
        name: "lesson-drift",
        label: "Drift (per cent)",
        help: "How much tighter the knitting in rounds is than flat. Left alone, the two swatches say it.",
        value: state.lessonDrift === null ? "" : String(state.lessonDrift),
        least: -10,
        most: 10,
        step: 1,
        empty: "as the swatches",
        change: (text) => {
          const drift = driftOf(text);
          if (drift === undefined) return NO_DRIFT;
          change(() => void (state.lessonDrift = drift), "lesson");
          return "";
        },
      }),
    ),
    h("div", { id: "lesson-tabs" }),
    h("div", { id: "lesson" }, h("p", {}, "Reading\u2026")),
    h("section", { id: "sheet", "aria-labelledby": "h-sheet" }),
  );
}

async function work() {
  const sent = lesson();
  const answer = await ask("drift", sent);
  const root = document.getElementById("lesson");
  if (!answer || !root) return;
  const labels = state.lesson === "mine" ? sizeLabels() : [];
  fill(
    document.getElementById("lesson-tabs"),
    labels.length > 1 && tabs("Sizes", labels.map((label, place) => [place, label]), Math.max(0, state.size), (size) => change(() => void (state.size = size), "size"), "lesson"),
  );
  if (!answer.drift) {
    const said = [...(answer.case_findings ?? []), ...(answer.findings ?? [])].filter((finding) => finding.level === "error");
    fill(root, h("p", {}, answer.error ?? "This sleeve cannot be worked out yet; its door says what is missing."), h("ul", {}, said.map((finding) => h("li", {}, finding.message))));
    return;
  }
  showIn(answer.drift.units, () => draw(root, answer));
}

function draw(root, answer) {
  const { drift } = answer;
  const size = drift.sizes[0];
  const sentence = headline(drift, size);
  say(sentence);
  fill(
    root,
    h("h2", {}, drift.case),
    h("p", { className: "summary" }, sentence),
    [...(answer.figures ?? [])].sort((a, b) => sleevesFirst(b) - sleevesFirst(a)).map((figure) => showFigure(figure, () => saveOf({ ...lesson(), kind: "drift-svg", figure: figure.name }))),
    h("h3", {}, "The same sleeve, planned with different gauges"),
    sleeves(size),
    h("h3", {}, "What the swatches say of each other"),
    drift.verdicts.length ? h("ul", {}, drift.verdicts.map((verdict) => h("li", {}, verdict.message, " ", h("span", { className: "next" }, verdict.next)))) : h("p", {}, "It takes two swatches to say that: one knitted flat, one in rounds."),
    h("h3", {}, "How sure is the right sleeve?"),
    spreads(size),
    h("details", {}, h("summary", {}, "Everything, in words"), h("pre", { tabIndex: 0 }, answer.text)),
  );
  sheet(answer.exercise);
}

/** The sleeves are what a class looks at; the swatches explain them. */
const sleevesFirst = (figure) => Number(figure.kind === "planned-sleeves");

function headline(drift, size) {
  const right = size.sleeves.find((sleeve) => sleeve.planned_with === "each its own");
  const flat = size.sleeves.find((sleeve) => sleeve.planned_with.startsWith("flat")) ?? size.sleeves.find((sleeve) => !sleeve.planned_with.startsWith("each"));
  const { gauge } = drift;
  const start = `From flat to round: ${percent(gauge.drift_stitches_pct)} in stitches, ${percent(gauge.drift_rows_pct)} in rows.`;
  if (!right || !flat) return start;
  return `${start} Planned with each gauge in its place the upper arm is ${show(right.upper_arm_cm)}; planned with the flat gauge for everything it comes out at ${show(flat.upper_arm_cm)} (${difference(flat.off.upper_arm_cm)} off).`;
}

function sleeves(size) {
  const all = size.sleeves;
  const row = (name, of) => [name, ...all.map(of)];
  return table(
    "The same sleeve, planned with different gauges",
    ["Planned with", ...all.map((sleeve) => sleeve.planned_with)],
    [
      row("Stitches of the first round", (sleeve) => String(sleeve.upper_arm_stitches)),
      row("Upper arm", (sleeve) => `${show(sleeve.upper_arm_cm)} (${difference(sleeve.off.upper_arm_cm)})`),
      row("Cap side of the join", (sleeve) => show(sleeve.join_cap_side_cm)),
      row("Jump at the join", (sleeve) => difference(sleeve.jump_cm)),
      row("Cap depth", (sleeve) => `${show(sleeve.depth_cm)} (${difference(sleeve.off.depth_cm)})`),
      row("Armhole share", (sleeve) => percent(sleeve.armhole_share_pct).replace("+", "")),
      row("Underarm to cuff", (sleeve) => (sleeve.underarm_to_cuff_cm === null || sleeve.underarm_to_cuff_cm === undefined ? "" : `${show(sleeve.underarm_to_cuff_cm)} (${difference(sleeve.off.underarm_to_cuff_cm)})`)),
    ],
  );
}

function spreads(size) {
  const number = (spread, value) => (spread.unit === "cm" ? show(value) : spread.unit === "cm2" ? area(value) : `${tidy(value.toFixed(1))} ${spread.unit}`);
  return table(
    "Every measure with its range, 95 % sure",
    ["", "Planned", "At least", "At most"],
    size.spreads.map((spread) => [spread.measure, number(spread, spread.value), ...(spread.interval ? spread.interval.map((end) => number(spread, end)) : ["not known", "not known"])]),
  );
}

function sheet(exercise) {
  const [questions, answers] = exercise.split("\f");
  fill(
    document.getElementById("sheet"),
    h("h3", { id: "h-sheet" }, "Exercise sheet"),
    h("p", { className: "row-of-buttons" }, h("button", { type: "button", onclick: () => print("sheet") }, "Print the sheet and its answers"), ["txt", "html", "pdf"].filter((kind) => kind !== "pdf" || told().pdf).map((kind) => h("button", { type: "button", onclick: () => saveOf({ ...lesson(), kind: `drift-${kind}` }) }, `Save as ${kind === "txt" ? "text" : kind.toUpperCase()}`))),
    h("pre", { tabIndex: 0, className: "questions", "aria-label": "Questions" }, questions.trim()),
    answers && h("details", { className: "answers" }, h("summary", {}, "Answers"), h("pre", { tabIndex: 0, "aria-label": "Answers" }, answers.trim())),
  );
}
