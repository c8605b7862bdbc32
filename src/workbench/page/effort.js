// Effort against closeness: more runs to remember follow the old curve more closely. Choosing a line
// fixes the number of runs.
import { choices, fill, h, wide } from "./dom.js";
import { change, set, state } from "./state.js";
import { percent, show } from "./units.js";

/** Fixes the runs; what was chosen among the caps of other runs is no choice any more. */
export const chooseRuns = (runs) =>
  change(null, () => {
    state.values["fit.runs"] = runs;
    delete state.values["fit.choice"];
  });

export function effort(root, fit, kept) {
  const wished = String(state.values["fit.runs"] ?? "");
  const worst = Math.max(...fit.trade.map((point) => point.objective ?? 0));
  const choose = (runs) => () => chooseRuns(runs);
  const radio = (value, label, checked, disabled) =>
    h("label", {}, h("input", { type: "radio", name: "effort", id: `effort-${value || "free"}`, checked, disabled, onchange: choose(value) }), h("span", {}, label));
  const rows = fit.trade.map((point) => {
    const none = point.objective === null;
    const share = none || worst === 0 ? 0 : Math.max(0.02, Math.sqrt(point.objective / worst));
    const bar = h("span", { className: "bar", "aria-hidden": "true" });
    bar.style.width = `${(share * 100).toFixed(0)}%`;
    return h(
      "tr",
      { className: point.runs === fit.runs ? "chosen" : "" },
      h("th", { scope: "row" }, radio(String(point.runs), `${point.runs} ${point.runs === 1 ? "run" : "runs"}`, wished === String(point.runs), none)),
      none
        ? h("td", { colSpan: 4 }, "cannot be knitted with so few")
        : [h("td", { className: "bars" }, bar, h("span", {}, show(point.width_rms_cm, 2))), h("td", {}, percent(point.area_error_pct)), h("td", {}, percent(point.ease_pct)), h("td", {}, String(point.decreases))],
    );
  });
  fill(
    root,
    h("p", { className: "help" }, `The bar is the distance from the ${kept} cap's outline. Choose a line to fix the runs; the cap is worked out anew.`),
    h("p", {}, radio("", `Let the fit choose (now ${fit.runs})`, wished === "", false)),
    wide(
      "Runs against closeness",
      h(
        "table",
        { className: "effort" },
        h("thead", {}, h("tr", {}, ["To remember", `Off the ${kept} width`, "Area", "Edge on armhole", "Decreases"].map((name) => h("th", { scope: "col" }, name)))),
        h("tbody", {}, rows),
      ),
    ),
    ties(fit),
  );
}

/** Caps that are nearly as good and simpler in some way. */
function ties(fit) {
  const offered = fit.near_ties ?? [];
  const taken = Number(state.values["fit.choice"] || 1);
  if (offered.length === 0 && taken === 1) return null;
  const words = offered.map((tie) => [String(tie.choice), `${tie.choice}. ${tie.simpler.join(", ")} (${tie.runs} runs, area ${percent(tie.area_error_pct)})`]);
  return choices("Which cap", "choice", [["", "1. the best"], ...words], taken === 1 ? "" : String(taken), (choice) => set("fit.choice", choice), "The others are nearly as good and simpler to knit.");
}
