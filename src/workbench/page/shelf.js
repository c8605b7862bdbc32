// All sizes of all cases side by side: what a shelf is looked through with.
import { h, wide } from "./dom.js";
import { difference, percent, show, showIn } from "./units.js";

const NS = "http://www.w3.org/2000/svg";

/** Half widths and depths in centimetres of the old cap, row by row, and of the new one, pair by pair. */
function outlines(size) {
  const { old_cap: old, fit, gauge } = size;
  const flat = old.ledger ?? [];
  const rise = old.depth_cm / Math.max(1, flat.length);
  const widest = Math.max(1, ...flat.map((row) => row.stitches));
  const before = flat.map((row, place) => [(row.stitches / widest) * (old.upper_arm_cm / 2), old.depth_cm - (place + 1) * rise]);
  const [wide, high] = [10 / gauge.cap.stitches, 10 / gauge.cap.rows];
  let half = fit.crown / 2;
  const after = [[half * wide, 0]];
  for (const [place, move] of fit.front.moves.entries()) {
    half += move.take - move.drop;
    after.push([half * wide, (place + 2) * 2 * high]);
  }
  return [before, after];
}

/** A small drawing of both; the figures beside it say the same. */
function drawing(size) {
  const [before, after] = outlines(size);
  const across = Math.max(...before.map(([x]) => x), ...after.map(([x]) => x));
  const down = Math.max(size.old_cap.depth_cm, size.fit.depth_cm);
  const svg = document.createElementNS(NS, "svg");
  svg.setAttribute("viewBox", `${-across - 1} -1 ${2 * across + 2} ${down + 2}`);
  svg.setAttribute("class", "small");
  svg.setAttribute("aria-hidden", "true");
  for (const [points, name] of [[before, "before"], [after, "after"]]) {
    const right = [...points].sort((a, b) => a[1] - b[1]);
    const left = right.map(([x, y]) => [-x, y]).reverse();
    const line = document.createElementNS(NS, "polyline");
    line.setAttribute("points", [...left, ...right].map(([x, y]) => `${x.toFixed(2)},${y.toFixed(2)}`).join(" "));
    line.setAttribute("class", name);
    svg.append(line);
  }
  return svg;
}

/** What was found for a size, counted by level. */
function marks(findings, size) {
  const own = findings.filter((one) => one.size === size || (one.sizes ?? []).includes(size));
  const words = [["error", "error"], ["warning", "to look at"]].map(([level, word]) => [own.filter((one) => one.level === level).length, word]);
  return words.filter(([count]) => count > 0).map(([count, word]) => `${count} ${word}`).join(", ") || "\u2013";
}

/** One row a size, of every case that could be converted; sizes in the order of their case. */
export function sideBySide(cases) {
  const rows = cases.flatMap(({ name, answer }) =>
    showIn(answer.conversion.units, () =>
      answer.conversion.sizes.map((size) => [
        h("span", {}, name, size.size === "one size" ? "" : h("span", { className: "unit" }, ` ${size.size}`)),
        drawing(size),
        `${show(size.old_cap.upper_arm_cm)} \u2192 ${show(size.fit.upper_arm_cm)}`,
        `${show(size.fit.depth_cm)} (${difference(size.fit.depth_cm - size.old_cap.depth_cm)})`,
        percent(size.fit.area_error_pct),
        `front ${percent(size.fit.front.ease_pct)}, back ${percent(size.fit.back.ease_pct)}`,
        `${size.fit.turn_pairs}`,
        `${size.fit.runs}`,
        marks(answer.findings ?? [], size.size),
      ]),
    ),
  );
  if (rows.length === 0) return null;
  return wide(
    "All sizes side by side",
    h(
      "table",
      { className: "shelf sizes" },
      h("caption", {}, "Broken line: the cap before; full line: the new one."),
      h("thead", {}, h("tr", {}, ["Case and size", "Outline", "Upper arm", "Depth", "Area", "Edge on armhole", "Turn pairs", "Runs", "Findings"].map((name) => h("th", { scope: "col" }, name)))),
      h("tbody", {}, rows.map(([first, ...cells]) => h("tr", {}, h("th", { scope: "row" }, first), cells.map((cell) => h("td", {}, cell))))),
    ),
  );
}
