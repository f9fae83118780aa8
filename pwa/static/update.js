// update.js looks after the service worker: is everything here for working
// offline, is a new version waiting, and start it when the person says so.
import { notice } from "./notice.js";
import { t } from "./words.js";

const patience = 10000; // ms; hashing every file takes well under one second

const state = { offlineReady: false, updateReady: false };
let registration = null;
let asked = false;
let changed = () => {};

/** updateFacts is the part of env() that this file knows. */
export const updateFacts = () => ({ ...state });

/** registerWorker starts or finds the worker; look is called when a fact changes,
 * other when another tab started a new version. */
export async function registerWorker(look, other) {
  if (!navigator.serviceWorker) return;
  changed = look;
  let had = navigator.serviceWorker.controller !== null;
  navigator.serviceWorker.addEventListener("controllerchange", () => {
    if (had && !asked) other();
    had = true;
  });
  try {
    registration = await navigator.serviceWorker.register("/sw.js", { updateViaCache: "none" });
  } catch (error) {
    console.error(error);
    return;
  }
  registration.addEventListener("updatefound", () => watch(registration.installing));
  watch(registration.installing);
  settle();
}

function watch(worker) {
  worker?.addEventListener("statechange", settle);
}

// settle brings the facts up to date. A worker that waits is an update only if
// another one is at work: the first one of all has nobody to replace.
async function settle() {
  const before = JSON.stringify(state);
  state.updateReady = Boolean(registration.waiting && registration.active);
  state.offlineReady = await complete(registration.active);
  if (JSON.stringify(state) !== before) changed();
}

// complete asks the worker to check every kept file against its hash, and to
// fetch what is missing.
async function complete(worker) {
  if (!worker || worker.state !== "activated") return false;
  const { missing } = await ask(worker, "check");
  if (missing.length === 0) return true;
  return (await ask(worker, "repair")).missing.length === 0;
}

/** checkFiles compares every kept file with its hash, now: the paths that do not
 * hold, or null when that cannot be found out. */
export async function checkFiles() {
  const { active } = registration ?? await navigator.serviceWorker.getRegistration() ?? {};
  if (active?.state !== "activated") return null;
  const { version, missing } = await ask(active, "check");
  return version ? missing : null;
}

function ask(worker, what) {
  return new Promise((resolve) => {
    const { port1, port2 } = new MessageChannel();
    const none = setTimeout(() => resolve({ missing: ["no answer"] }), patience);
    port1.onmessage = (event) => {
      clearTimeout(none);
      port1.close();
      resolve(event.data);
    };
    worker.postMessage({ do: what }, [port2]);
  });
}

/** checkForUpdate looks for a new version, and checks what is kept again. */
export function checkForUpdate() {
  if (!registration) return;
  seek();
  settle();
}

/** seek looks for a new version. */
export function seek() {
  registration?.update().catch(() => {}); // no connection: next time
}

/** applyUpdate starts the version that waits; the page reloads when it has. Some
 * browsers keep it waiting as long as any tab is open. */
export function applyUpdate() {
  const waiting = registration?.waiting;
  if (!waiting) return;
  asked = true;
  waiting.addEventListener("statechange", () => { if (waiting.state === "activated") location.reload(); });
  waiting.postMessage({ do: "activate" });
  setTimeout(() => notice(t("The new version has not started yet. Close every tab of the app, then open it again. What was saved is safe.")), patience);
}
