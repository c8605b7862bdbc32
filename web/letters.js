// Bytes as letters that may stand in a page: two of 95 letters hold 13 bits, or 14 where the 14 are few enough
// (95 * 95 is 833 more than 2 ** 13). 22 % more than the bytes; base64 takes 33 %. In a script `"` and `&` are letters as
// others are; `<` could end it, and a line end may be another one on another machine.
const BASE = 95;
const SPARE = BASE * BASE - 8192;
const PRINTED = Array.from({ length: 95 }, (_, place) => String.fromCharCode(32 + place));
const LETTERS = [...PRINTED.filter((letter) => letter !== "<"), "\t"];

/** Bytes to letters. */
export function toLetters(bytes) {
  let out = "";
  let [bits, held] = [0, 0];
  const put = (value) => (out += LETTERS[value % BASE] + LETTERS[Math.floor(value / BASE)]);
  for (const byte of bytes) {
    bits |= byte << held;
    held += 8;
    if (held < 14) continue;
    const wide = (bits & 8191) < SPARE;
    put(wide ? bits & 16383 : bits & 8191);
    bits >>>= wide ? 14 : 13;
    held -= wide ? 14 : 13;
  }
  if (held > 0) put(bits);
  return out;
}

/** Letters back to bytes; `length` says how many there were. */
export function toBytes(letters, length) {
  const values = new Uint8Array(128);
  LETTERS.forEach((letter, value) => (values[letter.charCodeAt(0)] = value));
  const out = new Uint8Array(length);
  let [bits, held, at] = [0, 0, 0];
  for (let place = 0; place + 1 < letters.length; place += 2) {
    const value = values[letters.charCodeAt(place)] + BASE * values[letters.charCodeAt(place + 1)];
    bits |= value << held;
    held += (value & 8191) < SPARE ? 14 : 13;
    for (; held >= 8 && at < length; held -= 8) {
      out[at++] = bits & 255;
      bits >>>= 8;
    }
  }
  if (at < length) out[at] = bits & 255;
  return out;
}
