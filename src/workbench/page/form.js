// The form: what the knitter has in front of them, in the order a pattern gives it.
import { choices, fill, h } from "./dom.js";
import { NO_DRIFT, driftOf, field, refresh, slider } from "./fields.js";
import { forget, linesField, refreshLines } from "./lines.js";
import { forgetCharts, refreshCharts, stitchPattern, stripes } from "./stitches.js";
import { change, groundBy, isStriped, sectionOf, set, sizeLabels, state, turn } from "./state.js";

function part(id, heading, open, ...children) {
  const details = h(
    "details",
    { id: `part-${id}`, className: "part", open: state.on[`open.${id}`] ?? open },
    h("summary", {}, h("h2", {}, heading)),
    h("div", { className: "body" }, children),
  );
  // Whether a part is open is no step of the work.
  details.addEventListener("toggle", () => void (state.on[`open.${id}`] = details.open));
  return details;
}

/** True when something of these parts was filled in. */
const filled = (...starts) => Object.entries(state.values).some(([path, value]) => value !== "" && value !== false && starts.some((start) => path.startsWith(start)));

/** Drifts that are offered, in per cent: swatches of one pair of hands differ by more than five now and then. */
const REACH = 10;

const more = (name, ...children) => h("details", { className: "more" }, h("summary", {}, name), h("div", { className: "grid" }, children));

const check = (name, label, help) =>
  h(
    "div",
    { className: "field flag" },
    h("label", {}, h("input", { type: "checkbox", id: `on-${name.replaceAll(".", "-")}`, checked: Boolean(state.on[name]), onchange: (event) => turn(name, event.target.checked) }), h("span", {}, label)),
    help && h("p", { className: "help" }, help),
  );

function swatch(table, heading, { optional } = {}) {
  const used = !optional || state.on[table];
  const before = `${table}.before_washing`;
  return h(
    "fieldset",
    { className: "swatch", "data-path": table },
    h("legend", {}, heading),
    h("p", { className: "help" }, sectionOf(table).about),
    optional && check(table, optional),
    used && h("div", { className: "grid three" }, field(`${table}.stitches`, optional && { help: "Counted on it; several counts as 22.5, 22, 22.5." }), field(`${table}.rows`, optional && { help: "Rows or rounds, counted likewise." }), field(`${table}.over`, { placeholder: state.values.units === "in" ? "4" : "10" })),
    used &&
      optional &&
      more(
        "More about this swatch",
        field(`${table}.washed`),
        table === "gauge.round" && field(`${table}.floats`),
        field(`${table}.edge_stitches`, { placeholder: "0" }),
        field(`${table}.division`, { placeholder: "0.5" }),
        table !== "gauge.body" && check(before, "It was counted before washing too"),
        table !== "gauge.body" && state.on[before] && [field(`${before}.stitches`), field(`${before}.rows`)],
      ),
    h("div", { className: "wrong" }),
  );
}

function armhole(table, heading) {
  const by = state.on["armhole.by"] ?? "measures";
  const grid = (keys, more = {}) => h("div", { className: "grid" }, keys.map((key) => field(`${table}.${key}`, more[key])));
  const also = (words, keys) => h("details", { className: "more", open: keys.some((key) => state.values[`${table}.${key}`]) }, h("summary", {}, words), grid(keys));
  const given = {
    measures: () => grid(["edge", "underarm", "depth"]),
    counts: () => [grid(["rows", "bound_off", "steps", "decreases", "seam_stitches"], { steps: { placeholder: "0" }, decreases: { placeholder: "0" }, seam_stitches: { placeholder: "0" } }), also("Measured with a tape too: they then check each other", ["edge", "underarm", "depth"])],
    lines: () => [linesField(`${table}.lines`), grid(["stitches", "first_row", "seam_stitches"], { seam_stitches: { placeholder: "1" } }), also("Counted on the finished body too: the counts then stand", ["rows", "bound_off"])],
  };
  return h(
    "fieldset",
    { "data-path": table },
    h("legend", {}, heading),
    given[by](),
    h("div", { className: "wrong" }),
  );
}

function body() {
  const by = state.on["body.by"] ?? "none";
  return [
    choices(
      "Known by",
      "body-by",
      [
        ["none", "nothing: leave this check out"],
        ["size", "a size of a table"],
        ["bust", "bust or chest"],
        ["arm", "a measured upper arm"],
      ],
      by,
      (word) => turn("body.by", word),
      "The sleeve is checked against the arms of people of that size. A measured arm beats any table.",
    ),
    by !== "none" &&
      h(
        "div",
        { className: "grid" },
        field("body.table"),
        by === "size" && field("body.size"),
        by === "bust" && field("body.bust"),
        by === "arm" && field("body.upper_arm"),
        by === "arm" && field("body.bust", { label: "Bust or chest, as a check" }),
      ),
    h("div", { className: "wrong" }),
  ];
}

function adapt() {
  const arm = state.on["adapt.arm"] ?? "keep";
  const none = Boolean(state.on["cap.none"]);
  return [
    none ? h("p", { className: "help" }, "There is no old cap, so one is drafted from the armhole and this arm.") : check("adapt", "Change the old cap before it is converted", "With nothing filled in below, the cap is made to meet its armhole."),
    (state.on.adapt || none) && [
      choices(
        "The upper arm",
        "adapt-arm",
        [
          ["keep", none ? "not said yet" : "as the old cap has it"],
          ["finished", "a finished width"],
          ["eased", "an arm and its ease"],
        ],
        arm,
        (word) => turn("adapt.arm", word),
      ),
      h(
        "div",
        { className: "grid" },
        arm === "finished" && field("adapt.upper_arm"),
        arm === "eased" && [field("adapt.upper_arm.body"), field("adapt.upper_arm.ease")],
        field("adapt.ease"),
        field("adapt.top"),
        field("adapt.depth"),
        !none && field("adapt.keep"),
        !none && field("adapt.sizes"),
      ),
    ],
    h("div", { className: "wrong" }),
  ];
}

function oldCap() {
  const none = Boolean(state.on["cap.none"]);
  const choose = choices(
    "The old sleeve",
    "cap-none",
    [
      ["lines", "its cap's lines"],
      ["none", "there is none: draft a cap"],
    ],
    none ? "none" : "lines",
    (word) =>
      change(
        null,
        () => {
          state.on["cap.none"] = word === "none";
          if (word === "none") state.on.adapt = true;
        },
        "form",
      ),
  );
  const finer = [
    field("sleeve.seam_stitches", { placeholder: "1" }),
    !none && field("sleeve.seam_rows", { placeholder: "0" }),
    field("sleeve.repeat.multiple", { placeholder: "1" }),
    field("sleeve.repeat.plus", { placeholder: "0" }),
  ];
  return [
    h("div", { "data-path": "sleeve" }, h("div", { className: "wrong" })),
    choose,
    !none && [h("div", { className: "grid" }, field("sleeve.stitches"), field("sleeve.first_row")), linesField("sleeve.cap")],
    more("Seams and stitch pattern", finer),
  ];
}

function wishes() {
  const inches = state.values.units === "in";
  return [
    slider({
      name: "whatif",
      label: "Drift to try (per cent)",
      help: "How much tighter your knitting in rounds is than flat. Left alone, your two swatches say it; move it to see what another drift would do.",
      value: state.whatIf === null ? "" : String(state.whatIf),
      least: -REACH,
      most: REACH,
      step: 0.5,
      empty: "as my swatches",
      change: (text) => {
        const drift = driftOf(text);
        if (drift === undefined) return NO_DRIFT;
        change("whatif", () => void (state.whatIf = drift));
        return "";
      },
    }),
    (state.on["body.by"] ?? "none") !== "none" &&
      slider({
        name: "body.ease",
        label: `Ease at the upper arm (${inches ? "in" : "cm"})`,
        help: "Finished sleeve less bare arm. Left alone, the old sleeve's width is kept and only judged.",
        value: String(state.values["body.ease"] ?? ""),
        least: inches ? -2 : -4,
        most: inches ? 5 : 12,
        step: inches ? 0.25 : 0.5,
        empty: "not chosen",
        change: (text) => void set("body.ease", text),
      }),
    slider({
      name: "fit.runs",
      label: "Runs to remember",
      help: "How many different runs of turns you are willing to keep in mind. More runs follow the old curve more closely; left alone, the fit takes the fewest that come close to the best.",
      value: String(state.values["fit.runs"] ?? ""),
      least: 1,
      most: 8,
      step: 1,
      empty: "let the fit choose",
      change: (text) => void set("fit.runs", text),
    }),
    h("div", { className: "grid" }, field("wording.turn"), field("wording.terms"), field("wording.hand"), field("wording.body"), field("wording.underarm"), field("fit.ease"), field("fit.plain_join")),
    more("Finer wishes", field("fit.gap_limit", { placeholder: "2" }), field("fit.base_tolerance", { placeholder: "0" }), field("fit.moves"), field("gauge.cap")),
  ];
}

/** What is knitted: cap and tube go on from there. */
function onTheNeedles() {
  const grid = (keys) => h("div", { className: "grid" }, keys.map((key) => field(`so_far.${key}`)));
  return h(
    "div",
    { "data-path": "so_far" },
    h("p", { className: "help" }, "Leave this empty until something has come out otherwise than planned. What is knitted stays, and the rest is planned anew from there, cap and tube alike; where your swatch and the tape leave open as much as the work differs, the plan stays as it is."),
    sizeLabels().length > 1 && grid(["size"]),
    h("fieldset", {}, h("legend", {}, "Of the tube"), grid(["rounds", "stitches", "upper_arm", "length"])),
    h("fieldset", {}, h("legend", {}, "Of the cap"), grid(["picked_up", "rows", "depth", "width", "measured_at", "turned_at", "mend", "sleeve"]), more("The cap goes on with other needles", grid(["gauge.stitches", "gauge.rows", "gauge.over"]))),
    h("div", { className: "wrong" }),
  );
}

/** Builds the whole form anew. */
export function build(root) {
  forget();
  forgetCharts();
  const differ = Boolean(state.on["armhole.differ"]);
  fill(
    root,
    part("name", "1. Name and sizes", filled("title", "sizes"), h("div", { className: "grid" }, field("title"), field("sizes", { placeholder: "one size" }))),
    part("cap", "2. The old cap", true, oldCap()),
    part(
      "gauge",
      "3. Gauge",
      true,
      swatch("gauge.pattern", "The old pattern's gauge"),
      swatch("gauge.flat", "Your flat swatch", { optional: "I have a swatch knitted back and forth" }),
      swatch("gauge.round", "Your round swatch", { optional: "I have a swatch knitted in rounds" }),
      swatch("gauge.body", "The body's gauge", { optional: "The body has another stitch than the sleeve" }),
    ),
    part(
      "armhole",
      "4. The armhole",
      true,
      choices(
        "Given by",
        "armhole-by",
        [
          ["measures", "three measures"],
          ["lines", "the body's own lines"],
          ["counts", "rows and stitches counted on the finished body"],
        ],
        state.on["armhole.by"] ?? "measures",
        (word) => turn("armhole.by", word),
      ),
      check("armhole.differ", "Front and back differ"),
      differ ? [armhole("armhole.front", "Front armhole"), armhole("armhole.back", "Back armhole")] : armhole("armhole", "Armhole, front and back alike"),
      check("shoulder", "A saddle's stitches wait at the shoulder"),
      state.on.shoulder && h("div", { className: "grid", "data-path": "shoulder" }, field("shoulder.live_stitches"), field("shoulder.extra_each_side", { placeholder: "0" })),
    ),
    part("wearer", "5. The wearer", filled("body."), h("div", { "data-path": "body" }, body())),
    part("tube", "6. Below the cap", filled("sleeve.cuff", "sleeve.length"), h("div", { className: "grid" }, field("sleeve.cuff_stitches"), field("sleeve.length"), field("sleeve.cuff_length"))),
    part("stitch", "7. Stitch pattern and stripes", groundBy() !== "none" || isStriped(), stitchPattern(), stripes()),
    part("adapt", "8. Another arm or armhole", Boolean(state.on.adapt), h("div", { "data-path": "adapt" }, adapt())),
    part("wishes", "9. Your way", filled("wording.turn", "wording.hand", "fit.", "body.ease") || filled("title"), wishes()),
    part("needles", "10. On the needles already", filled("so_far."), onTheNeedles()),
    part(
      "readings",
      "11. Wordings that have two readings",
      false,
      h("p", { className: "help" }, "Leave these alone unless a finding on the lines names one."),
      h(
        "div",
        { className: "grid" },
        sectionOf("readings").keys.map((key) => field(`readings.${key.name}`)),
      ),
    ),
  );
}

/** Sets every input to the work as it stands. */
export function update(root) {
  refresh(root);
  refreshLines();
  refreshCharts();
}
