// What a finding advises, in the words of the page, and as buttons that do it.
import { h } from "./dom.js";
import { change, keyOf, sizeLabels, state } from "./state.js";

const PARTS = {
  "gauge.pattern": "the old pattern\u2019s gauge",
  "gauge.flat": "your flat swatch",
  "gauge.round": "your round swatch",
  "gauge.body": "the body\u2019s gauge",
  "so_far.gauge": "\u201cThe cap goes on with other needles\u201d",
  "armhole.front": "the front armhole",
  "armhole.back": "the back armhole",
  adapt: "\u201cAnother arm or armhole\u201d",
  fit: "\u201cYour way\u201d",
  body: "\u201cThe wearer\u201d",
  shoulder: "the saddle\u2019s stitches",
  wording: "\u201cYour way\u201d",
  armhole: "\u201cThe armhole\u201d",
  sleeve: "\u201cThe old cap\u201d",
  stitch: "\u201cStitch pattern and stripes\u201d",
  stripes: "\u201cStitch pattern and stripes\u201d",
  so_far: "\u201cOn the needles already\u201d",
};

const upper = (text) => text[0].toUpperCase() + text.slice(1);

/** The keys of a case file in a sentence, by the names they have on the page. */
export function named(text) {
  return text
    .replace(/^\[(gauge\.\w+|so_far\.gauge)\] /, (whole, table) => (PARTS[table] ? `${upper(PARTS[table])}: ` : whole))
    .replace(/write (\w+) = "second" under \[readings\] in the case(?: \([^)]*\))?/, "take the other reading")
    .replace(/`?\[adapt\]`?(?: to the case)? with `ease = 0`(?: to the case)?/g, "\u201cAnother arm or armhole\u201d with an ease of 0")
    .replace(/adapt\.upper_arm = \{ body = ([\d.]+), ease = ([\d.]+) \}/g, "an arm of $1 and an ease of $2 under \u201cAnother arm or armhole\u201d")
    .replace(/[Ww]rite repeat = \{ multiple = (\d+) \} under \[sleeve\]/g, "Ask for a multiple of $1 under \u201cThe old cap\u201d")
    .replace(/repeat = \{ multiple = (\d+) \} in its place/, "a multiple of $1 in its place")
    .replace(/ is a string; it must be a list such as \[\["navy", 4\], \["cream", 2\]\]/, " needs colours and their rows, such as navy 4, cream 2")
    .replace(/`capwright tables`/g, "the list of tables")
    .replace(/ of a length or a count the number alone, 10 and not "10 cm"/, " a length as 20 cm, 8 1/4\" or 7\u00bd, a count as its number")
    .replace(/`?\[([a-z_.]+)\]`?/g, (whole, table) => PARTS[table] ?? whole)
    .replace(/\b[a-z_]+(?:\.[a-z_]+)+\b/g, (path) => {
      const key = keyOf(path);
      const where = path.startsWith("gauge.") || path.startsWith("armhole.f") || path.startsWith("armhole.b") ? PARTS[path.slice(0, path.lastIndexOf("."))] : null;
      return key ? `\u201c${key.label}\u201d${where ? ` of ${where}` : ""}` : path;
    })
    .replace(/`(\w+)`/g, (whole, word) => `\u201c${keyOf(word)?.label ?? word}\u201d`)
    .replace(/`([^`]*)`/g, "\u201c$1\u201d");
}

const put = (path, value) => () => void (state.values[path] = value);
const leaveOut = (path) => () => void delete state.values[path];
const turnOn = (name, value = true) => () => void (state.on[name] = value);

/** `so_far.rows = 2, no so_far.turned_at`: what these keys come to. */
const keysOf = (keys) =>
  keys.match(/no so_far\.\w+|so_far\.\w+ = (?:\[[^\]]*\]|"[^"]*"|[\d.]+)/g).map((key) => {
    const [path, value] = key.replace(/^no /, "").split(" = ");
    return value === undefined ? leaveOut(path) : put(path, value.replace(/[[\]"]/g, ""));
  });

/** What can be done at one press: what is looked for in the advice, the button, and what it changes. */
const WAYS = [
  [/Ripped back by (\d+) pairs?, to (?:row \d+|the pick-up) \(([^()]*)\)/, ([, pairs, keys]) => [`Rip back by ${pairs} ${pairs === "1" ? "pair" : "pairs"}`, ...keysOf(keys)]],
  [/(?:with |\()so_far\.mend = "(keep|correct)"/, ([, word]) => [word === "keep" ? "Keep the counts as they are" : "Put the counts right on the needle", put("so_far.mend", word)]],
  [/so_far\.sleeve = "right"/, () => ["It is the right sleeve", put("so_far.sleeve", "right")]],
  [/`\[adapt\]`.*`ease = 0`/, () => ["Make the cap meet its armhole", turnOn("adapt"), put("adapt.ease", "0")]],
  [/adapt\.upper_arm = \{ body = ([\d.]+), ease = ([\d.]+) \}/, ([, arm, ease]) => [`Adapt the cap to an arm of ${arm}`, turnOn("adapt"), turnOn("adapt.arm", "eased"), put("adapt.upper_arm.body", arm), put("adapt.upper_arm.ease", ease)]],
  [/add `\[adapt\]` to the case/, () => ["Adapt the cap", turnOn("adapt")]],
  [/fit\.gap_limit to ([\d.]+)/, ([, limit]) => (Number(limit) <= 2.4 ? [`Allow ${limit} rows between two picked-up stitches`, put("fit.gap_limit", limit)] : null)],
  [/fit\.runs/, () => (state.values["fit.runs"] ? ["Let the fit choose the runs", leaveOut("fit.runs")] : null)],
  [/[Ll]eave fit\.choice out/, () => ["Take the best cap", leaveOut("fit.choice")]],
  [/leave out fit\.same_runs/, () => ["Let each size have its own runs", leaveOut("fit.same_runs")]],
  [/(?:leave adapt\.depth out|no adapt\.depth)/, () => (state.values["adapt.depth"] ? ["Let the depth be free", leaveOut("adapt.depth")] : null)],
  [/give \[gauge\.round\]/, () => (state.on["gauge.round"] ? null : ["I have a swatch knitted in rounds", turnOn("gauge.round")])],
  [/give \[gauge\.flat\]/, () => (state.on["gauge.flat"] ? null : ["I have a swatch knitted flat", turnOn("gauge.flat")])],
  [/repeat = \{ multiple = (\d+) \}/, ([, multiple]) => ["Take whole repeats", put("sleeve.repeat.multiple", multiple)]],
  [/With (\d+) stitches before the lines every stated count agrees/, ([, count], finding) => (finding.field === "sleeve.cap" && sizeLabels().length < 2 ? [`Begin with ${count} stitches`, put("sleeve.stitches", count)] : null)],
  [/no \[shoulder\]/, () => ["Say how many stitches wait", turnOn("shoulder")]],
  [/give body\.upper_arm|give the upper arm as measured/, () => (state.on["body.by"] === "arm" ? null : ["Give the arm as measured", turnOn("body.by", "arm")])],
];

/** Buttons for what the advice of a finding says. */
export function ways(finding) {
  const advice = `${finding.message} ${finding.next}`;
  return WAYS.flatMap(([looks, way]) => {
    const found = looks.exec(advice);
    const [words, ...steps] = (found && way(found, finding)) ?? [];
    if (!words) return [];
    const act = () => change(null, () => steps.forEach((step) => step()), "form");
    return [h("button", { type: "button", className: "repair", onclick: act }, words)];
  });
}
