// sw.js keeps the app on the phone. All files or none: a version is installed
// only if every one arrived with the right type and hash. It answers only for
// the app's own files; everything else goes to the network untouched.
"use strict";

const built = null; // cmd/dev writes this line

const prefix = "strutcard-";
const cacheName = prefix + built.version;
const byPath = new Map(built.assets.map((asset) => [asset.path, asset]));

self.addEventListener("install", (event) => event.waitUntil(install()));
self.addEventListener("activate", (event) => event.waitUntil(begin()));
self.addEventListener("fetch", onFetch);
self.addEventListener("message", onMessage);

// install drops the version when one file failed, but not before the others are done:
// they still look into the caches and put into this one.
async function install() {
  const cache = await caches.open(cacheName);
  const kept = await Promise.allSettled(built.assets.map((asset) => keep(cache, asset)));
  const failed = kept.find((one) => one.status === "rejected");
  if (!failed) return;
  await caches.delete(cacheName);
  throw failed.reason;
}

// keep stores one file. One that is here already with the same hash, as from an older
// version, is taken from there, to spare a slow connection. A file that was spoilt on
// its way may be in the browser's own cache under the right tag, and the server would
// confirm that tag for ever: it is then fetched past that cache. Credentials are as
// the page's own: Firefox keeps what came without them apart, and fetched all twice.
// A cache is not opened to look into it: one that was just deleted would be made anew.
async function keep(cache, asset) {
  for (const name of await caches.keys()) {
    const old = await caches.match(asset.path, { cacheName: name, ignoreVary: true });
    if (old && await isRight(old.clone(), asset)) return cache.put(asset.path, old);
  }
  for (const mode of ["no-cache", "reload"]) {
    const response = await fetch(asset.path, { cache: mode });
    if (await isRight(response.clone(), asset)) return cache.put(asset.path, response);
  }
  throw new Error(`${asset.path} is not the file that was built`);
}

// isRight guards against error pages and sign-in pages that answer 200.
async function isRight(response, asset) {
  const type = response.headers.get("Content-Type") ?? "";
  if (response.status !== 200 || response.redirected || essence(type) !== essence(asset.type)) return false;
  const sum = await crypto.subtle.digest("SHA-256", await response.arrayBuffer());
  return hex(sum) === asset.hash;
}

const essence = (type) => type.split(";")[0].trim().toLowerCase();
const hex = (buffer) => Array.from(new Uint8Array(buffer), (b) => b.toString(16).padStart(2, "0")).join("");

// begin also takes on the page that was open before there was any worker: else it
// would go on without the kept files, and a later version would not wait for it.
async function begin() {
  await removeOthers();
  await self.clients.claim();
}

async function removeOthers() {
  for (const name of await caches.keys()) {
    if (name.startsWith(prefix) && name !== cacheName) await caches.delete(name);
  }
}

function onFetch(event) {
  const { request } = event;
  const url = new URL(request.url);
  if (request.method !== "GET" || url.origin !== self.location.origin) return;
  if (request.mode === "navigate") {
    if (built.shell.includes(url.pathname)) event.respondWith(answer("/", request));
    else if (url.pathname.endsWith(".html") && byPath.has(url.pathname)) event.respondWith(answer(url.pathname, request));
    return;
  }
  if (byPath.has(url.pathname)) event.respondWith(answer(url.pathname, request));
}

// answer prefers the kept file; without one the network may still have it.
async function answer(path, request) {
  const cache = await caches.open(cacheName);
  return (await cache.match(path, { ignoreVary: true })) ?? fetch(request);
}

function onMessage(event) {
  const work = { activate: () => self.skipWaiting(), check, repair }[event.data?.do];
  if (!work) return;
  event.waitUntil(work().then((reply) => event.ports[0]?.postMessage(reply)));
}

// check names the files that are not kept whole.
async function check() {
  const cache = await caches.open(cacheName);
  const missing = [];
  for (const asset of built.assets) {
    const kept = await cache.match(asset.path, { ignoreVary: true });
    if (!kept || !await isRight(kept, asset)) missing.push(asset.path);
  }
  return { version: built.version, missing };
}

async function repair() {
  const cache = await caches.open(cacheName);
  const { missing } = await check();
  for (const path of missing) {
    await keep(cache, byPath.get(path)).catch(() => {}); // still missing: the next check says so
  }
  return check();
}
