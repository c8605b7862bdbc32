// How a request gets to the engine and its answer back. This one asks the server of this machine; the
// one-file page has another in its place (web/carrier.js) with the same three functions.

const encode = (body) => ({ method: "POST", headers: { "content-type": "application/json" }, body: JSON.stringify(body) });

/** Said when there is no answer at all. */
export const SILENT = "The workbench does not answer. Start it again with \u201ccapwright workbench\u201d and reload this page; what you typed is kept here.";

/** Sends a request; resolves to its status, media type, file name and bytes. Rejects with an AbortError
 * when `signal` says that nobody waits, with another error when there is no answer. */
export async function send(what, body, signal) {
  const response = await once(what, body, signal);
  return {
    status: response.status,
    mime: response.headers.get("content-type") ?? "",
    file: /filename="([^"]+)"/.exec(response.headers.get("content-disposition") ?? "")?.[1] ?? null,
    bytes: new Uint8Array(await response.arrayBuffer()),
  };
}

/** Sends once more when the connection was gone: an idle one may be closed just as it is used. */
async function once(what, body, signal) {
  const sent = () => fetch(`api/${what}`, { ...encode(body), signal });
  try {
    return await sent();
  } catch (error) {
    if (error.name === "AbortError") throw error;
    await new Promise((rested) => setTimeout(rested, 150));
    return sent();
  }
}

/** What the page needs before anything is typed. */
export async function start() {
  return (await fetch("api/start")).json();
}
