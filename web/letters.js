// Bytes as letters that may stand in a page: two of 91 letters hold 13 bits, or 14 where the 14 are few enough
// (91 * 91 is 89 more than 2 ** 13). 23 % more than the bytes; base64 takes 33 %.
const BASE = 91;
const SPARE = BASE * BASE - 8192;
const LETTERS = Array.from({ length: 94 }, (_, place) => String.fromCharCode(33 + place)).filter((letter) => !"<\"&".includes(letter));

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
