// The result, redrawn with every answer.
import { ways as advised } from "./advice.js";
import { chooseRuns, effort } from "./effort.js";
import { fill, h, keepingFocus, say, table, tabs } from "./dom.js";
import { humane, levelWord, neededOf, whose } from "./fields.js";
import { place as placeFigures } from "./figures.js";
import { keepers } from "./keeper.js";
import { knitting } from "./knit.js";
import { merged } from "./lines.js";
import { pairs } from "./pairs.js";
import { buttons, copyText, print, saveFigure } from "./save.js";
import { change as update, drop, fieldOf, keyOf, show as change, sizeLabels, state } from "./state.js";
import { area, difference, percent, show } from "./units.js";
import { term } from "./words.js";

const SECTIONS = [
  ["outline", "Outline"],
  ["charts", "Charts"],
  ["numbers", "Numbers"],
  ["findings", "Findings"],
  ["ease", "Ease"],
  ["effort", "Effort"],
  ["rows", "Row by row"],
  ["figures", "More figures"],
  ["pattern", "Pattern"],
  ["files", "Files"],
];

/** Marks what is shown as older than the fields, until the next answer. */
export const aged = () => document.getElementById("result").classList.add("aged");

/** Shows nothing: what stands there is of another sleeve. */
export function blank() {
  const root = document.getElementById("result");
  root.classList.add("blank");
  root.classList.remove("old");
  fill(at("pattern"));
  fill(at("summary"), "Reading\u2026");
}

/** What the cap that is kept is called: an adapted or drafted one is no old one. */
export const kept = (size) => (size.adapt ? (size.printed_cap ? "adapted" : "drafted") : "old");

const at = (name) => document.getElementById(`r-${name}`);

/** Builds the empty frame of the result once. */
export function frame(root) {
  const jumps = h("nav", { className: "jumps", "aria-label": "Parts of the result" }, SECTIONS.map(([name, heading]) => h("a", { href: `#s-${name}` }, heading)));
  fill(
    root,
    h("h2", { className: "unseen" }, "The new cap"),
    h("div", { id: "r-tabs" }),
    h(
      "div",
      { id: "r-panel" },
      h("p", { id: "r-summary", className: "summary" }, "Reading\u2026"),
      h("div", { id: "r-trouble" }),
      h("p", { id: "r-stale", className: "stale" }, "What is shown from here on is older than the fields."),
      jumps,
      SECTIONS.map(([name, heading]) => h("section", { id: `s-${name}`, tabIndex: -1, "aria-labelledby": `h-${name}` }, h("h3", { id: `h-${name}` }, heading), h("div", { id: `r-${name}` }))),
    ),
  );
  fill(at("files"), buttons());
}

/** Tabs of the sizes; a size with something wrong is marked. */
export function showTabs(levels) {
  const labels = sizeLabels();
  if (state.size >= labels.length) state.size = 0;
  const root = at("tabs");
  const panel = at("panel");
  if (labels.length < 2) {
    fill(root);
    panel.removeAttribute("role");
    panel.removeAttribute("aria-labelledby");
    return;
  }
  const hint = (label) => ({ error: "has errors", warning: "has something to look at" })[levels.get(label)];
  const entries = [...labels.map((label, place) => [place, label, hint(label)]), [-1, "All sizes"]];
  const choose = (size) => change(() => void (state.size = size), "size");
  keepingFocus(() => fill(root, tabs("Sizes", entries, state.size, choose, "r-panel")));
  panel.setAttribute("role", "tabpanel");
  panel.setAttribute("aria-labelledby", `tab-r-panel-${state.size === -1 ? labels.length : state.size}`);
}

/** Shows an answer to `convert`. */
export function showResult(answer, homeless = []) {
  const findings = merged([...(answer.findings ?? []), ...homeless.filter((one) => one.level !== "error")]).sort(byLevel);
  const conversion = answer.conversion;
  // Until the case is whole, the lines speak for themselves.
  const lines = answer.valid ? [] : Object.values(answer.lines ?? {}).flatMap((one) => one.findings);
  const said = [...merged([...(answer.case_findings ?? []), ...lines]), ...findings].filter((finding) => finding.level === "error");
  const needed = [...new Set(said.filter((finding) => finding.code === "missing-key").flatMap(neededOf))];
  const errors = said.filter((finding) => finding.code !== "missing-key");
  const root = document.getElementById("result");
  root.classList.remove("aged");
  root.classList.toggle("old", !conversion);
  if (conversion) root.classList.remove("blank");
  fill(
    at("trouble"),
    !conversion && h("div", { className: "trouble" }, errors.length > 0 && h("p", {}, "The cap cannot be worked out yet."), h("ul", { className: "findings" }, errors.map(finding)), stillNeeded(needed)),
  );
  if (!conversion) {
    const wrong = errors.length && `${errors.length} ${errors.length === 1 ? "thing is" : "things are"} wrong`;
    const more = needed.length && `${needed.length} ${needed.length === 1 ? "answer is" : "answers are"} still needed`;
    const sentence = `Not worked out: ${[wrong, more].filter(Boolean).join(", ")}.`;
    fill(at("summary"), sentence);
    peek(sentence);
    say(`${sentence} ${errors[0]?.message ?? ""}`);
    return;
  }
  const figures = answer.figures ?? [];
  const one = conversion.sizes.length === 1 ? conversion.sizes[0] : null;
  const sentence = one ? summary(one) : setSummary(conversion);
  fill(at("summary"), state.whatIf !== null && h("strong", {}, `Trying a drift of ${percent(state.whatIf)} in place of your round swatch; what is saved keeps your own. `), sentence);
  peek(one ? `${one.fit.turn_pairs} turn pairs` : `${conversion.sizes.length} sizes`);
  say(sentence);
  keepingFocus(() => {
    fill(at("numbers"), one ? numbers(one) : sizesTable(conversion));
    fill(at("findings"), h("ul", { className: "findings" }, findings.map(finding)), findings.length === 0 && h("p", {}, "Nothing was found."));
    placeFigures(at("outline"), figures, one ? ["overlay"] : ["size-set"], saveFigure);
    showOne(one, figures);
    if (state.whatIf !== null) fill(at("pattern"), h("p", {}, "A drift is being tried. The pattern to knit is that of your own swatches."), h("p", {}, h("button", { type: "button", onclick: () => drawTried(null) }, "End the trial")));
    else fill(
      at("pattern"),
      h("p", { className: "row-of-buttons" }, h("button", { type: "button", onclick: () => copyText(answer.text) }, "Copy"), h("button", { type: "button", onclick: () => print("pattern") }, "Print")),
      one && keepers(one, answer.follow),
      one && knitting(one),
      h("details", { id: "whole-text", open: !one || matchMedia("(min-width: 68rem)").matches }, h("summary", {}, one ? "The whole text, with its numbers" : "The text of all sizes"), h("pre", { tabIndex: 0, id: "pattern-text", "aria-label": "The written pattern" }, answer.text)),
    );
  });
}

const drawTried = (pct) => update("whatif", () => void (state.whatIf = pct), "form");

const PART_NAMES = { "gauge.pattern": ", pattern\u2019s gauge", "armhole.front": ", front", "armhole.back": ", back" };

/** The answers that are still needed, each a way to its field. */
function stillNeeded(needed) {
  if (needed.length === 0) return null;
  const way = (path) => {
    const input = document.querySelector(`#form [data-path="${CSS.escape(path)}"] :is(input, select, textarea)`);
    const name = PART_NAMES[path.slice(0, path.lastIndexOf("."))] ?? "";
    const label = `${keyOf(path)?.label ?? path}${name}`;
    return h("li", {}, input ? h("button", { type: "button", className: "quiet", onclick: () => goTo(input) }, label) : label);
  };
  return [h("p", {}, h("strong", {}, needed.length === 1 ? "One more answer:" : `${needed.length} more answers:`)), h("ul", { className: "needs" }, needed.map(way))];
}

const RANK = ["error", "warning", "note"];

/** What is worst first. */
export const byLevel = (a, b) => RANK.indexOf(a.level) - RANK.indexOf(b.level);

/** The line at the foot of a narrow page. */
const peek = (sentence) => fill(document.getElementById("peek"), sentence);

/** What is shown of one size only. */
function showOne(one, figures) {
  for (const name of ["charts", "ease", "effort", "rows", "figures"]) {
    document.getElementById(`s-${name}`).hidden = !one;
    document.querySelector(`.jumps a[href="#s-${name}"]`).hidden = !one;
  }
  if (!one) return;
  const strip = h("div", {});
  placeFigures(strip, figures, ["ease-strip"], saveFigure);
  fill(at("ease"), strip, ease(one));
  effort(at("effort"), one.fit, kept(one));
  const map = figures.find((figure) => figure.name === "fabric-map");
  const trade = h("div", {});
  placeFigures(trade, figures, ["trade"], saveFigure);
  for (const point of trade.querySelectorAll("[data-runs]")) point.addEventListener("click", () => chooseRuns(point.dataset.runs));
  at("effort").append(trade);
  pairs(at("rows"), map, saveFigure);
  // A stitch pattern's charts stand by themselves, the repeats first: they are worked from.
  const charts = ["repeat-chart", "cap-chart", "chart-piece", "tube-chart"];
  const some = placeFigures(at("charts"), figures, charts, saveFigure);
  if (!some) hide("charts");
  const shown = ["overlay", "ease-strip", "trade", "fabric-map", "size-set", ...charts];
  placeFigures(at("figures"), figures, figures.map((figure) => figure.kind).filter((kind) => !shown.includes(kind)), saveFigure);
  const others = figures.some((figure) => !shown.includes(figure.kind));
  if (!others) hide("figures");
}

function hide(name) {
  document.getElementById(`s-${name}`).hidden = true;
  document.querySelector(`.jumps a[href="#s-${name}"]`).hidden = true;
}

function summary(size) {
  const { fit, old_cap: old } = size;
  const depth = difference(fit.depth_cm - old.depth_cm);
  return `${fit.turn_pairs} turn pairs, ${fit.upper_arm_stitches} stitches, upper arm ${show(fit.upper_arm_cm)}; depth ${show(fit.depth_cm)} (${depth}), area ${percent(fit.area_error_pct)} against the ${kept(size)} cap; ${fit.runs} runs to remember. Knitted back from its words, it comes out as planned.`;
}

function setSummary(conversion) {
  const pairs = conversion.sizes.map((size) => size.fit.turn_pairs);
  return `${conversion.sizes.length} sizes worked out, ${Math.min(...pairs)} to ${Math.max(...pairs)} turn pairs; each was knitted back from its words and comes out as planned.`;
}

function numbers(size) {
  const { old_cap: old, printed_cap: printed, adapt, fit, baseline } = size;
  const edge = (cap) => `front ${percent(cap.front.ease_pct)}, back ${percent(cap.back.ease_pct)}`;
  const side = (cap) => Math.max(cap.front.decreases, cap.back.decreases);
  const flat = (of) => (printed ? [of(printed), of(old)] : [of(old)]);
  const none = flat(() => "");
  const name = adapt ? (printed ? "Adapted cap" : "Drafted cap") : "Old cap";
  return [
    table(
      `${name}, new cap and the common recipe`,
      ["", ...(printed ? ["As printed"] : []), name, "New cap", term("common recipe", "Common recipe")],
      [
        [term("turn pair", "Rows and turn pairs"), ...flat((cap) => `${cap.rows}`), `${fit.turn_pairs} turn pairs (${2 * fit.turn_pairs} rows)`, `${baseline.turn_pairs} turn pairs`],
        [term("depth", "Depth"), ...flat((cap) => show(cap.depth_cm)), `${show(fit.depth_cm)} (${difference(fit.depth_cm - old.depth_cm)})`, `${show(baseline.depth_cm)} (${difference(baseline.depth_cm - old.depth_cm)})`],
        ["Area", ...flat((cap) => area(cap.area_cm2)), `${area(fit.area_cm2)} (${percent(fit.area_error_pct)})`, `${area(baseline.area_cm2)} (${percent(baseline.area_error_pct)})`],
        [term("upper arm", "Upper arm"), ...flat((cap) => show(cap.upper_arm_cm)), `${fit.upper_arm_stitches} sts, ${show(fit.upper_arm_cm)}`, `${baseline.upper_arm_stitches} sts, ${show(baseline.upper_arm_cm)}`],
        [term("crown", "Top, crown"), ...flat((cap) => show(cap.top_cm)), `crown of ${fit.crown} sts`, `crown of ${baseline.crown} sts`],
        [term("off the width", `Off the ${kept(size)} width`), ...none, show(fit.width_rms_cm, 2), show(baseline.width_rms_cm, 2)],
        [term("edge on armhole", "Edge on armhole"), ...none, edge(fit), edge(baseline)],
        [term("decreases", "Decreases a side"), ...none, `${side(fit)}`, `${side(baseline)}`],
        [term("run", "Runs to remember"), ...none, `${fit.runs}`, `${baseline.runs}`],
      ],
    ),
    adapt?.lines && h("details", { open: true }, h("summary", {}, printed ? "The flat cap, adapted, in words" : "The flat cap, drafted, in words"), h("pre", { tabIndex: 0, className: "wrapped" }, [adapt.lines].flat().join("\n"))),
  ];
}

function sizesTable(conversion) {
  return table(
    "The sizes side by side",
    ["Size", conversion.sizes.some((size) => size.adapt) ? "Upper arm asked for" : "Old upper arm", "New upper arm", "Depth", "Area", "Turn pairs", "Picked up", "Runs"],
    conversion.sizes.map((size) => [
      size.size,
      show(size.old_cap.upper_arm_cm),
      `${size.fit.upper_arm_stitches} sts, ${show(size.fit.upper_arm_cm)}`,
      `${show(size.fit.depth_cm)} (${difference(size.fit.depth_cm - size.old_cap.depth_cm)})`,
      percent(size.fit.area_error_pct),
      String(size.fit.turn_pairs),
      `${size.fit.crown} + ${size.fit.front.picked_up} + ${size.fit.base} + ${size.fit.back.picked_up}`,
      String(size.fit.runs),
    ]),
  );
}

function ease(size) {
  const word = kept(size)[0].toUpperCase() + kept(size).slice(1);
  const cell = (bands) => bands.map((band) => difference(band.ease_cm));
  const { old, new: fresh } = size.ease_strip;
  const same = JSON.stringify(old.front) === JSON.stringify(old.back) && JSON.stringify(fresh.front) === JSON.stringify(fresh.back);
  const heads = fresh.front.map((_, place) => (place === 0 ? "Underarm" : place === fresh.front.length - 1 ? "Shoulder" : `${place + 1}`));
  const rows = same
    ? [[`${word} cap`, ...cell(old.front)], ["New cap", ...cell(fresh.front)]]
    : [[`${word}, front`, ...cell(old.front)], [`${word}, back`, ...cell(old.back)], ["New, front", ...cell(fresh.front)], ["New, back", ...cell(fresh.back)]];
  return h("details", { open: true }, h("summary", {}, "Ease along the edge, underarm to shoulder, at the same heights"), table("Ease along the edge", ["", ...heads], rows));
}

/** What can be done about a finding in the form: go to its field, or leave out what no case has. */
function ways(one) {
  const input = one.field && document.querySelector(`#form [data-path="${CSS.escape(fieldOf(one.field))}"] :is(input, select, textarea)`);
  const extra = one.code === "unknown-key" && Object.keys(state.values).filter((path) => path === one.field || path.startsWith(`${one.field}.`));
  const doing = advised(one);
  const way = one.level === "error" || doing.length > 0;
  return h(
    "p",
    { className: "row-of-buttons" },
    doing,
    way && input && h("button", { type: "button", className: "quiet", onclick: () => goTo(input) }, "Go to the field"),
    extra && extra.length > 0 && h("button", { type: "button", onclick: () => drop(extra) }, `Leave out ${one.field}`),
  );
}

function goTo(input) {
  if (state.place !== "old") change(() => void (state.place = "old"));
  input.closest("details:not([open])")?.setAttribute("open", "");
  input.focus();
  input.scrollIntoView({ block: "center" });
}

/** A finding with where it is from. */
export function finding(told) {
  const one = humane(told);
  return h(
    "li",
    { className: `said ${one.level}` },
    h("p", {}, h("strong", {}, `${levelWord(one.level)}: `), whose(one), one.message, " ", h("span", { className: "next" }, one.next)),
    state.door === "pattern" && ways(told),
    h("details", {}, h("summary", {}, "Why"), h("p", {}, one.why), h("p", { className: "source" }, `Source: ${one.source}.`)),
  );
}
