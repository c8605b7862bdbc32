// Centimetres and inches: one inch is 2.54 cm exactly (international yard and pound agreement, 1959).
import { plain } from "./numbers.js";
import { change, keyOf, state } from "./state.js";

const CM = 2.54;

let other = null;

/** Shows lengths in these units while `draw` runs: those of another case than the one in the form. */
export function showIn(units, draw) {
  other = units;
  try {
    return draw();
  } finally {
    other = null;
  }
}

const inInches = () => (other ?? state.values.units) === "in";

/** An area in square centimetres as a text. */
export const area = (cm2) => (inInches() ? `${(cm2 / (CM * CM)).toFixed(1)}\u00a0in\u00b2` : `${cm2.toFixed(0)}\u00a0cm\u00b2`);

/** A length in centimetres as a text in the units of the case. */
export function show(cm, digits = 1) {
  if (cm === null || cm === undefined) return "";
  const inches = inInches();
  const number = inches ? cm / CM : cm;
  return `${tidy(number.toFixed(digits))}\u00a0${inches ? "in" : "cm"}`;
}

/** A difference, with its sign. */
export function difference(cm) {
  const text = show(cm);
  return cm > 0 && !/^0\.0\s/.test(text) ? `+${text}` : text;
}

export const tidy = (text) => text.replace(/^-(0(?:\.0*)?)$/, "$1").replace("-", "\u2212");

export const percent = (number, digits = 1) => {
  const text = tidy(number.toFixed(digits));
  return `${number > 0 && Number(number.toFixed(digits)) !== 0 ? "+" : ""}${text}\u00a0%`;
};

/** Converts every length in the work at once. A text that was converted and not touched since comes
 * back exactly as it was typed. */
export function switchTo(units) {
  if ((state.values.units ?? "cm") === units) return;
  change(
    null,
    () => {
      const times = units === "in" ? 1 / CM : CM;
      const before = state.on.converted ?? {};
      const now = {};
      for (const [path, value] of Object.entries(state.values)) {
        if (!keyOf(path)?.length || typeof value !== "string" || value.includes("%")) continue;
        // A text that names its unit is right in any case.
        if (/[a-z"\u201d\u2033]/i.test(value)) continue;
        const known = before[path];
        const next = known && known[1] === value ? known[0] : converted(plain(path, value).text, times, path.endsWith(".over") ? 4 : 2);
        now[path] = [value, next];
        state.values[path] = next;
      }
      const usual = spelledOut(units);
      for (const path of Object.keys(state.values)) {
        // Counts over the usual 10 cm are not counts over the usual 4 in: the length is spelt out.
        const swatch = /^(gauge\.[a-z]+)\.(?:stitches|rows)$/.exec(path);
        if (!swatch) continue;
        const over = `${swatch[1]}.over`;
        if (state.values[path] && !state.values[over] && !now[over]) {
          state.values[over] = usual;
          now[over] = ["", usual];
        }
      }
      state.values.units = units;
      state.on.converted = now;
    },
    "form",
  );
}

/** The usual length of a swatch in the other units, in these. */
const spelledOut = (units) => (units === "in" ? String(Number((10 / CM).toFixed(4))) : String(4 * CM));

/** A case, as the server gives it, in these units. */
export function inUnits(form, units) {
  if ((form.units ?? "cm") === units) return form;
  const times = units === "in" ? 1 / CM : CM;
  const walk = (table, path) => {
    const entries = Object.entries(table).map(([name, value]) => {
      const full = path ? `${path}.${name}` : name;
      if (value && typeof value === "object" && !Array.isArray(value)) return [name, walk(value, full)];
      if (!keyOf(full)?.length) return [name, value];
      return [name, Array.isArray(value) ? value.map((one) => converted(String(one), times, 4)).join(", ") : converted(String(value), times, 4)];
    });
    const copy = Object.fromEntries(entries);
    return /^gauge\./.test(path) && "stitches" in copy && !("over" in copy) ? { ...copy, over: spelledOut(units) } : copy;
  };
  return { ...walk(form, ""), units };
}

function converted(text, times, digits) {
  return text.replace(/\d+(?:\.\d+)?/g, (number) => String(Number((Number(number) * times).toFixed(digits))));
}
