// Asking the engine: one answer at a time for each question, stale ones dropped.
import { SILENT, send } from "./carrier.js";

const running = new Map();
const text = new TextDecoder();

/** Asks; resolves to the answer, or to null when a later question of the same lane overtook it. */
export async function ask(what, body, lane = what) {
  running.get(lane)?.abort();
  const mine = new AbortController();
  running.set(lane, mine);
  try {
    const { mime, bytes } = await send(what, body, mine.signal);
    const told = text.decode(bytes);
    const answer = mime.startsWith("application/json") ? JSON.parse(told) : { error: told };
    return running.get(lane) === mine ? answer : null;
  } catch (error) {
    if (error.name === "AbortError") return null;
    return { error: SILENT };
  } finally {
    if (running.get(lane) === mine) running.delete(lane);
  }
}

/** Asks for a file and saves it under the name the engine gives; resolves to a sentence when it fails. */
export async function download(body) {
  let answer;
  try {
    answer = await send("file", body);
  } catch {
    return SILENT;
  }
  const { status, mime, file, bytes } = answer;
  if (status !== 200) {
    try {
      return JSON.parse(text.decode(bytes)).error;
    } catch {
      return "The file could not be made.";
    }
  }
  keepFile(file ?? "sleeve", new Blob([bytes], { type: mime }));
  return "";
}

/** Hands a file to the browser to be kept. */
export function keepFile(name, blob) {
  const link = document.createElement("a");
  link.href = URL.createObjectURL(blob);
  link.download = name;
  document.body.append(link);
  link.click();
  link.remove();
  setTimeout(() => URL.revokeObjectURL(link.href), 10000);
}
