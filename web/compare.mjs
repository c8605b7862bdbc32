// Holds the browser's engine against the native program: the same requests, the same bytes.
//     node compare.mjs ENGINE.wasm NATIVE        (NATIVE: the example `answers`, built for this machine)
import assert from "node:assert/strict";
import { spawn } from "node:child_process";
import { readFileSync, readdirSync } from "node:fs";
import { dirname, join, resolve } from "node:path";
import { fileURLToPath } from "node:url";
import { Worker, isMainThread, parentPort, workerData } from "node:worker_threads";

const root = resolve(dirname(fileURLToPath(import.meta.url)), "..");
const [wasm, native] = process.argv.slice(2);
const MUTATED = Number(process.env.MUTATED ?? 260);
/** Engines that share the requests out among them. */
const ENGINES = 2;

const cases = [...readdirSync(join(root, "cases")).sort().map((name) => `cases/${name}`), "tests/data/check/twelve.toml"].filter((name) => name.endsWith(".toml")).map((name) => readFileSync(join(root, name), "utf8"));
const KINDS = ["toml", "txt", "together", "checklist", "csv", "grading", "grading-csv", "json", "html", "pdf", "svg", "drift-txt", "drift-html", "drift-pdf", "drift-svg", "nothing"];
const FIGURES = ["overlay", "fabric-map", "armhole", "ease-strip", "depth-width", "trade", "schematic", "arm", "size-set"];
/** Of a stitch pattern; several of a kind have their numbers in their names. */
const CHARTS = ["cap-chart", "chart-piece", "chart-piece-2", "tube-chart", "repeat-chart", "repeat-chart-2"];
/** A printed pattern with the new sleeve in it; the second print has two garments, of which the second is taken, the third no cap. */
const AMENDED = ["amended-txt", "amended-html", "amended-json", "amended-plain"];
const PRINTS = [["02-old-jumper"], ["56-two-garments", 2], ["40-raglan"]];
const WHAT = ["open", "read", "check", "convert", "drift", "figures", "nothing"];

/** SplitMix64 (Steele, Lea and Flood 2014) with a fixed start: every run asks the same. */
let seed = 20261129n;
function random(below) {
  seed = BigInt.asUintN(64, seed + 0x9e3779b97f4a7c15n);
  let z = seed;
  z = BigInt.asUintN(64, (z ^ (z >> 30n)) * 0xbf58476d1ce4e5b9n);
  z = BigInt.asUintN(64, (z ^ (z >> 27n)) * 0x94d049bb133111ebn);
  return Number((z ^ (z >> 31n)) % BigInt(below));
}

/** A case with a few of its letters or numbers changed. */
function mutated(text) {
  for (let change = 0; change <= random(3); change += 1) {
    const numbers = [...text.matchAll(/\d+(?:\.\d+)?/g)];
    const one = numbers[random(numbers.length)];
    if (random(4) > 0 && one) {
      const value = Number(one[0]) + (random(9) - 4) / (random(2) ? 1 : 2);
      text = text.slice(0, one.index) + value + text.slice(one.index + one[0].length);
    } else {
      const at = random(text.length);
      text = text.slice(0, at) + ["", "x", "\n", "\u00bd", "(", "every other row "][random(6)] + text.slice(at + random(4));
    }
  }
  return text;
}

/** Requests about printed patterns: each is read, and where it has a sleeve, amended with the case it became. */
async function ofPrints() {
  const prints = PRINTS.map(([name, garment]) => ({ print: readFileSync(join(root, `tests/leaflets/${name}.txt`), "utf8"), ...(garment && { garment }) }));
  const read = prints.map((print) => ["leaflet", print]);
  const told = unframed(await natively(frame(read.map(packed))));
  const amended = told.flatMap((answer, place) => {
    const { case: form } = JSON.parse(body(answer));
    if (!form) return [];
    form.gauge = { ...form.gauge, round: { stitches: 22.5, rows: 31 } };
    return AMENDED.map((kind) => ["file", { case: form, kind, ...prints[place] }]);
  });
  assert.ok(amended.length >= 8, "no print became a case");
  return [...read, ...amended];
}

async function all() {
  const asked = [["start", null], ["convert", "no JSON"], ...(await ofPrints())];
  for (const toml of cases) {
    for (const what of WHAT) {
      // All sizes of a set at once take as long as all else together where each is drawn or knitted five times.
      const sizes = ["drift", "figures"].includes(what) ? [0, 99] : [null, 0, 99];
      for (const size of sizes) asked.push([what, { toml, size }]);
    }
    for (const kind of KINDS) asked.push(["file", { toml, kind, size: 0 }]);
    const figures = toml.includes("[stitch]") ? [...FIGURES, ...CHARTS] : FIGURES;
    for (const figure of figures) asked.push(["file", { toml, kind: "svg", figure, size: 0 }]);
  }
  for (let one = 0; one < MUTATED; one += 1) {
    const toml = mutated(cases[random(cases.length)]);
    asked.push([WHAT[random(WHAT.length)], { toml, size: 0 }]);
  }
  return asked.map(packed);
}

const packed = ([what, body]) => Buffer.from(`${what}\n${typeof body === "string" ? body : body === null ? "" : JSON.stringify(body)}`);
const frame = (requests) => Buffer.concat(requests.flatMap((request) => [Buffer.from(new Uint32Array([request.length]).buffer), request]));

function unframed(answers) {
  const found = [];
  for (let at = 0; at < answers.length; at += 4 + answers.readUInt32LE(at)) found.push(answers.subarray(at + 4, at + 4 + answers.readUInt32LE(at)));
  return found;
}

/** What follows the line that says status and kind. */
const body = (answer) => answer.subarray(answer.indexOf("\n") + 1).toString();

/** What is compared: what the program was built with besides, the page's engine is not. */
function compared(answer) {
  return answer.toString("latin1").replace(/"leaflet_pdf":(true|false)/, "");
}

/** What the native program answers; it works while the engines do. */
function natively(framed) {
  const child = spawn(native, { stdio: ["pipe", "pipe", "inherit"] });
  const pieces = [];
  child.stdout.on("data", (piece) => pieces.push(piece));
  const told = new Promise((resolve, reject) => {
    child.on("error", reject);
    child.on("close", (status) => (status === 0 ? resolve(Buffer.concat(pieces)) : reject(new Error(`${native} ended with ${status}`))));
  });
  child.stdin.end(framed);
  return told;
}

/** An engine of its own answers every so-manieth request. */
function answerSome(requests) {
  const { exports: engine } = new WebAssembly.Instance(new WebAssembly.Module(readFileSync(wasm)), {});
  const answers = [];
  for (const request of requests) {
    const room = engine.room(request.length) >>> 0;
    new Uint8Array(engine.memory.buffer, room, request.length).set(request);
    const found = engine.ask() >>> 0;
    answers.push(new Uint8Array(engine.memory.buffer, engine.answer() >>> 0, found).slice());
  }
  return answers;
}

function started(requests) {
  const worker = new Worker(new URL(import.meta.url), { argv: process.argv.slice(2), workerData: requests });
  return new Promise((resolve, reject) => {
    worker.on("message", resolve);
    worker.on("error", reject);
  });
}

if (!isMainThread) {
  parentPort.postMessage(answerSome(workerData));
} else {
  const requests = await all();
  const told = natively(frame(requests));
  const parts = await Promise.all(Array.from({ length: ENGINES }, (_, first) => started(requests.filter((_, place) => place % ENGINES === first))));
  const wanted = await told;
  let at = 0;
  for (const [place, request] of requests.entries()) {
    const answer = Buffer.from(parts[place % ENGINES][Math.floor(place / ENGINES)]);
    const length = wanted.readUInt32LE(at);
    const same = compared(answer) === compared(wanted.subarray(at + 4, at + 4 + length));
    assert.ok(same, `request ${place} (${String(request.subarray(0, 300))}) is answered otherwise than natively`);
    at += 4 + length;
  }
  assert.equal(at, wanted.length);
  console.log(`${requests.length} requests, ${(wanted.length / 1e6).toFixed(1)} MB of answers: no byte differs`);
}
