// Numbers as people type them: 3/4, 7 1/2, 7½, 8,2, 36", 20 cm in a case in inches. What is sent is plain; what
// was understood is shown where it differs from what was typed.
import { keyOf, sizeLabels, state } from "./state.js";

const CM = 2.54;
const VULGAR = { "\u00bd": "1/2", "\u00bc": "1/4", "\u00be": "3/4", "\u2153": "1/3", "\u2154": "2/3", "\u215b": "1/8", "\u215c": "3/8", "\u215d": "5/8", "\u215e": "7/8" };
const UNITS = { '"': "in", "\u201d": "in", "\u2033": "in", "''": "in", in: "in", ins: "in", inch: "in", inches: "in", cm: "cm", cms: "cm", mm: "mm" };
const COUNTED = /\b(?:sts?|stitch(?:es)?|rows?|rnds?|rounds?)\b\.?/gi;
const FRACTION = "(\\d+)\\s*[/\u2044]\\s*(\\d+)";
const UNIT = "(\"|\u201d|\u2033|''|(?:inch(?:es)?|ins?|cms?|mm)\\b\\.?)";
const ONE = new RegExp(`(?:${FRACTION}|(\\d+(?:\\.\\d+)?)(?:(?:\\s+|-)${FRACTION})?)(?:\\s*${UNIT})?`, "gi");
const LAST_UNIT = new RegExp(`${UNIT}$`, "i");

/** True when the one comma between digits is a decimal comma: 8,2. */
function hasDecimalComma(text, kind) {
  if (text.includes(".")) return false;
  const tight = text.match(/\d,\d+/g) ?? [];
  if (tight.length === 0) return false;
  if (/,\s|;/.test(text)) return true;
  if (tight.length > 1) return false;
  return kind === "counts" ? /\d,\d(?!\d)/.test(text) : kind !== "sized" || sizeLabels().length !== 2;
}

/** A text as plain numbers in the units of the case: `{ text, changed }`. */
export function plain(path, typed, units = state.values.units ?? "cm") {
  const key = keyOf(path);
  if (typeof typed !== "string" || !key || !["number", "sized", "counts"].includes(key.kind)) return { text: typed, changed: false };
  // 19/25/10/24 are four counts, no fractions.
  const four = path === "so_far.picked_up" && /^\s*\d+(?:\s*[/,;]\s*\d+){3}\s*$/.test(typed);
  if (four) return { text: typed.match(/\d+/g).join(", "), changed: false };
  let text = typed.replace(/[\u00bc-\u00be\u2153\u2154\u215b-\u215e]/g, (sign) => ` ${VULGAR[sign]}`).replace(/\u2212/g, "-");
  if (hasDecimalComma(text, key.kind)) text = text.replace(/(\d),(\d)/g, "$1.$2");
  if (!key.length) text = text.replace(COUNTED, "");
  // 20 (21, 22) cm: the one unit at the end is that of all.
  const shared = LAST_UNIT.exec(text.trim())?.[1];
  if (shared && key.length) text = text.trim().slice(0, -shared.length);
  text = text.replace(ONE, (whole, over, under, number, part, parts, unit) => {
    const [top, bottom] = over === undefined ? [part, parts] : [over, under];
    const word = unit ?? (shared && key.length ? shared : undefined);
    const known = word && UNITS[word.toLowerCase().replace(/\.$/, "")];
    if ((top === undefined && !known) || Number(bottom) === 0 || (known && !key.length)) return whole;
    const value = Number(number ?? 0) + (top === undefined ? 0 : Number(top) / Number(bottom));
    const times = { in: CM, cm: 1, mm: 0.1 };
    const told = !known || known === units ? value : (value * times[known]) / times[units];
    return String(Number(told.toFixed(4)));
  });
  text = text.trim();
  return { text, changed: text.replace(/\s/g, "") !== typed.replace(/\s/g, "") };
}

/** The same text said to be in these units: 20 (21, 22) becomes 20 (21, 22) cm. */
export const withUnits = (text, units) => `${text.trim()} ${units}`;

/** What was understood, where it differs from what was typed. */
export function understood(path) {
  const { text, changed } = plain(path, state.values[path]);
  if (!changed || text === "") return "";
  const unit = keyOf(path).length ? `\u00a0${state.values.units ?? "cm"}` : "";
  return `Read as ${text}${unit}.`;
}
