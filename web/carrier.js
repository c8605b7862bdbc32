// The carrier of the one-file page: the engine runs in a worker inside the page, no server and no network.
// Same functions as src/workbench/page/carrier.js; the bundle takes this file in its place.
import { toBytes } from "./letters.js";
import WORKER from "worker:engine.js";

export const SILENT = "The engine of this page does not answer; what you typed is kept. Save it to a file and open the page again.";

/** An answer that nobody waits for any more may take so long before its worker is replaced. */
const PATIENCE_MS = 250;

const waiting = [];
let worker = null;
let engine = null;
let running = null;

const text = new TextDecoder();

/** The engine's bytes, unpacked once. */
async function unpacked() {
  if (typeof WebAssembly !== "object" || typeof DecompressionStream !== "function" || typeof Worker !== "function") {
    throw new Error("This browser is too old for this page: it can run no WebAssembly or unpack nothing. Any browser of 2023 or later can.");
  }
  const packed = document.getElementById("engine");
  const bytes = toBytes(packed.textContent, Number(packed.dataset.bytes));
  packed.textContent = "";
  const stream = new Blob([bytes]).stream().pipeThrough(new DecompressionStream("gzip"));
  return WebAssembly.compile(await new Response(stream).arrayBuffer());
}

async function begin() {
  engine ??= unpacked();
  const module = await engine;
  const address = URL.createObjectURL(new Blob([WORKER], { type: "text/javascript" }));
  worker = new Worker(address);
  URL.revokeObjectURL(address);
  worker.onmessage = ({ data }) => (data.fault ? fail(data.fault) : done(data.head, data.bytes));
  worker.onerror = (event) => fail(event.message);
  worker.postMessage({ module });
}

function done(head, bytes) {
  const ended = running;
  running = null;
  const { status, mime, file } = JSON.parse(text.decode(head));
  ended?.resolve({ status, mime: mime ?? "", file: file ?? null, bytes });
  next();
}

/** A fault of the engine: it is started anew, and the request is answered with a sentence. */
function fail(fault) {
  console.warn(fault);
  const ended = running;
  restart();
  const sentence = "Something went wrong inside for this case; what you typed is safe and the engine was started anew. Please report the case.";
  ended?.resolve({ status: 500, mime: "application/json", file: null, bytes: new TextEncoder().encode(JSON.stringify({ error: sentence })) });
  next();
}

function restart() {
  worker?.terminate();
  worker = null;
  running = null;
}

async function next() {
  if (running || waiting.length === 0) return;
  running = waiting.shift();
  const mine = running;
  try {
    if (!worker) await begin();
    if (running !== mine) return;
    if (!mine.gone) {
      worker.postMessage({ what: mine.what, body: mine.body });
      return;
    }
    running = null;
    next();
  } catch (error) {
    running = null;
    mine.reject(error);
    next();
  }
}

/** Sends a request; resolves to its status, media type, file name and bytes. */
export function send(what, body, signal) {
  return new Promise((resolve, reject) => {
    const mine = { what, body: body === null ? "" : JSON.stringify(body), resolve, reject };
    signal?.addEventListener("abort", () => {
      mine.gone = true;
      const place = waiting.indexOf(mine);
      if (place !== -1) waiting.splice(place, 1);
      // What is being worked out cannot be asked to stop: it is cut off when it takes long.
      else if (running === mine) {
        setTimeout(() => {
          if (running !== mine || !worker) return;
          restart();
          next();
        }, PATIENCE_MS);
      }
      reject(new DOMException("overtaken", "AbortError"));
    });
    waiting.push(mine);
    next();
  });
}

/** What the page needs before anything is typed. */
export async function start() {
  const { bytes } = await send("start", null);
  return JSON.parse(text.decode(bytes));
}
