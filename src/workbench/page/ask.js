// Asking the server: one answer at a time for each question, stale ones dropped.

const running = new Map();

/** Sends once more when the connection was gone: an idle one may be closed just as it is used. */
async function post(what, body, signal) {
  const sent = () =>
    fetch(`api/${what}`, {
      method: "POST",
      headers: { "content-type": "application/json" },
      body: JSON.stringify(body),
      signal,
    });
  try {
    return await sent();
  } catch (error) {
    if (error.name === "AbortError") throw error;
    await new Promise((rested) => setTimeout(rested, 150));
    return sent();
  }
}

/** Asks; resolves to the answer, or to null when a later question of the same lane overtook it. */
export async function ask(what, body, lane = what) {
  running.get(lane)?.abort();
  const mine = new AbortController();
  running.set(lane, mine);
  try {
    const response = await post(what, body, mine.signal);
    const kind = response.headers.get("content-type") ?? "";
    const answer = kind.startsWith("application/json") ? await response.json() : { error: await response.text() };
    return running.get(lane) === mine ? answer : null;
  } catch (error) {
    if (error.name === "AbortError") return null;
    return { error: "The workbench does not answer. Start it again with \u201ccapwright workbench\u201d; what you typed is kept here." };
  } finally {
    if (running.get(lane) === mine) running.delete(lane);
  }
}

/** Asks for a file and saves it under the name the server gives; resolves to a sentence when it fails. */
export async function download(body) {
  let response;
  try {
    response = await post("file", body);
  } catch {
    return "The workbench does not answer; nothing was saved.";
  }
  if (!response.ok) {
    const told = await response.json().catch(() => ({}));
    return told.error ?? "The file could not be made.";
  }
  const name = /filename="([^"]+)"/.exec(response.headers.get("content-disposition") ?? "")?.[1] ?? "sleeve";
  const link = document.createElement("a");
  link.href = URL.createObjectURL(await response.blob());
  link.download = name;
  document.body.append(link);
  link.click();
  link.remove();
  setTimeout(() => URL.revokeObjectURL(link.href), 10000);
  return "";
}
