// compile.js runs beside the page: it reads and compiles the program, which would
// hold up the page for more than a second on a slow phone. The requests of such a
// worker may pass the service worker by, so it looks among the kept files itself, and
// takes only the very program that belongs to this page. Without it the page does it.
"use strict";

const built = null; // cmd/dev writes this line

async function compile() {
  for await (const bytes of found()) {
    if (await isRight(bytes)) return WebAssembly.compile(bytes);
  }
  throw new Error("the program of this page is not here");
}

// found gives what may be the program: what is kept, then what the network has.
async function* found() {
  for (const name of await globalThis.caches?.keys().catch(() => []) ?? []) {
    const kept = await caches.match("/app.wasm", { cacheName: name, ignoreVary: true });
    if (kept) yield kept.arrayBuffer();
  }
  const response = await fetch("/app.wasm");
  if (response.ok) yield response.arrayBuffer();
}

// isRight needs a secure page. Another keeps nothing, and so mixes no versions up.
async function isRight(bytes) {
  if (!globalThis.crypto.subtle) return true;
  const sum = new Uint8Array(await crypto.subtle.digest("SHA-256", bytes));
  return Array.from(sum, (b) => b.toString(16).padStart(2, "0")).join("") === built;
}

postMessage({ alive: true }); // from here on an answer comes, however long a slow link takes
compile().then((module) => postMessage({ module }), (error) => postMessage({ error: String(error) }));
