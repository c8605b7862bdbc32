// The worker: requests in, answers out, one at a time. A classic script, so that it runs from a file.
let engine = null;
const encoder = new TextEncoder();

/** Carries one request through the three exported functions (web/src/lib.rs). */
function answered({ what, body }) {
  const { memory, room, ask, answer } = engine.exports;
  const request = encoder.encode(`${what}\n${body}`);
  const place = room(request.length) >>> 0;
  new Uint8Array(memory.buffer, place, request.length).set(request);
  const length = ask() >>> 0;
  const out = new Uint8Array(memory.buffer, answer() >>> 0, length);
  const cut = out.indexOf(10);
  return { head: out.slice(0, cut), bytes: out.slice(cut + 1) };
}

self.onmessage = ({ data }) => {
  try {
    if (data.module) engine = new WebAssembly.Instance(data.module, {});
    else {
      const { head, bytes } = answered(data);
      self.postMessage({ head, bytes }, [head.buffer, bytes.buffer]);
    }
  } catch (error) {
    self.postMessage({ fault: String(error) });
  }
};
