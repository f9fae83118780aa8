// boot.js starts the app: the last screen at once, then the storage, then Go.
//
/**
 * The seam between this page and Go. pwa/browser/doc.go says the same from the
 * other side; change both together and add a dated line there.
 *
 * Go sets one global:
 * @typedef {object} Seam  globalThis.strutcard
 * @property {() => Promise<string>} start  reads the log and paints
 * @property {(name: string, args: string) => Promise<string>} act
 *   args is a JSON object of strings; the reply is {"ok":bool,"message":…,"hint":…}
 * @property {(key: string, value: string) => Promise<string>} input
 *   keeps a half-typed value; until it has, a paint must not undo the typing
 *
 * What Go keeps as its meta "view" is where the person is; back.js brings it again
 * with the act "back". Acts and inputs are carried out in the order of the calls,
 * those that wait for a network (client.Waits) beside them. "arrive" is called when
 * the page comes back into view, "tick" every 15 s while it is in view. A program
 * that panics ends; this file notices, starts a fresh one from the compiled module,
 * and says so.
 *
 * This page sets one global before Go runs:
 * @typedef {object} Host  globalThis.host
 * @property {(regions: Object<string, string>) => void} paint
 * @property {(method, path, body: Uint8Array|null, token, timeoutMs) => Promise<{status, type, body}>} http
 *   rejects when no answer came
 * @property {() => {online, standalone, persisted, offlineReady, updateReady,
 *   storage: "indexeddb"|"memory", leader, wake, install: "prompt"|"share"|""}} env
 * @property {() => Promise<{files, how, persisted, photos, free}>} inspect
 *   looks afresh; each is "yes", "no" or "" for not found out; free is bytes, or -1
 * @property {{size: (sha256: string) => Promise<number>,
 *   send: (token: string, epoch: string, wanted: string[]) => Promise<void>,
 *   progress: () => {done, of, bytesDone, bytesOf, trouble: string}}} photos
 *   size: bytes of a kept picture, 0 when it is not here. send: carries what the
 *   server lacks, then fetches the wanted ones that are not here; at once done when
 *   it is at work already. progress: of this phone's own, as of now. Tests take and
 *   survey pictures by it too
 * @property {(key: string, value: string) => void} remember  a small text, beside the record
 * @property {(key: string) => string} recall  "" when it is not there
 * @property {() => void} persist       ask the browser to keep the storage
 * @property {() => void} install       ask to put the app on the home screen
 * @property {(on: boolean) => void} wake  keep the screen on
 * @property {() => void} print         the print dialogue for what is shown
 * @property {() => void} alarm         sound and vibrate once, where allowed
 * @property {() => void} applyUpdate   start the version that waits
 * @property {(tag: string) => Promise<{tag: string, words: string}>} words  a language's
 *   catalogue, "" for English; the tag "" stands for the one chosen before, or the phone's
 * @property {(name: string) => void} theme  "paper", "board", "sun", or "" as the phone
 * @property {(name, type, text) => void} download
 * @property {Log} log
 *
 * @typedef {object} Log  every function returns a Promise; a line is an event's
 *   canonical JSON and is never parsed and written again
 * @property write(lines)  array of "stored", "duplicate", "conflict:id",
 *   "conflict:seq"; resolves when the transaction is complete
 * @property take(json)     a change in; an array of outcomes, or "moved"
 * @property job(job)       its lines joined by "\n"
 * @property jobs()         array of ids in order of arrival
 * @property pending(limit) lines joined by "\n"
 * @property waiting()      number
 * @property troubled()     JSON array of verdicts
 * @property meta(name)
 * @property setMeta(name, value)
 * @property lines()        array of every line of a saved copy, for one without Go
 */
import "./wasm_exec.js";
import { facts, http, install, learnPersisted, persist, wake, wakeAgain, alarm, unlockAlarm, theme, download, printOut, remember, recall } from "./host.js";
import { paint, adopt, keepSnapshot, showAsked } from "./paint.js";
import { still } from "./finger.js";
import { openStore, onTrouble } from "./store.js";
import { memoryStore } from "./memory.js";
import { listen, flush, tellLostPhoto } from "./input.js";
import { announce, follow, lead, leader } from "./tabs.js";
import { registerWorker, updateFacts, checkForUpdate, applyUpdate, seek } from "./update.js";
import { notice, reloading } from "./notice.js";
import "./clip.js";
import { went, followBack } from "./back.js";
import { t, words } from "./words.js";
import { applySenses, done, followAloud, silence } from "./senses.js";
import { fill, survey, take, withRoom } from "./media.js";
import { photos } from "./upload.js";
import { inspect } from "./inspect.js";

const actPatience = 45000; // ms; longer than any request that an act may wait for
const restartPause = 60000; // ms; a second death within it ends in the repair message
const syncEvery = 20000; // ms while the page is visible, on average
const tickEvery = 15000; // ms while the page is visible
const recordKey = "sc-record"; // set once this browser has held a record
const outdated = 426; // status of a server that needs a newer app

let module = null; // compiled once; a restart does not fetch again
let program = null; // {seam, ended} of the instance that runs
let storage = "indexeddb";
let lastDeath = -Infinity;

theme(recall("sc-theme"));
applySenses();
words("").catch(() => {}); // on its way while the program is compiled
adopt(guard.snapshot);
busy(true);
boot().catch((error) => {
  console.error(error);
  guard.broken(storage === "indexeddb");
});

async function boot() {
  onTrouble(tellTrouble);
  const [log] = await Promise.all([chooseStore(), compiled(), lead(), learnPersisted()]);
  globalThis.host = {
    http: request, words, remember: keepBeside, recall, persist, install, wake, alarm, print: printOut, applyUpdate, theme, download, inspect,
    photos: { ...photos, take, survey },
    paint: still((regions) => { paint(regions); fill(); followAloud(); }),
    env: () => ({ ...facts(), ...updateFacts(), storage, leader: leader() }),
    log: announcing(log),
  };
  performance.mark("sc-launch");
  await launch();
  busy(false);
  showAsked();
  performance.mark("sc-ready");
  guard.ready();
  listen({ act, input });
  tellLostPhoto();
  followPage();
  followBack(await log.meta("view").catch(() => ""), act);
  followLink();
}

// busy keeps the last screen from being pressed before Go can hear it.
function busy(on) {
  for (const id of ["r-strip", "r-main", "r-sheet", "r-bar"]) document.getElementById(id).inert = on;
  document.getElementById("r-main").setAttribute("aria-busy", String(on));
  document.documentElement.toggleAttribute("data-opening", on);
}

// chooseStore never takes an empty memory for a record that it cannot reach:
// a browser that once held one gets the repair message instead.
async function chooseStore() {
  for (let attempt = 1; ; attempt++) {
    try {
      const log = await openStore();
      performance.mark("sc-stored");
      notice("");
      return log;
    } catch (error) {
      console.error(error);
      if (attempt === 3) return lastResort(error);
      notice(t("The phone's storage has not answered yet. Trying again."));
      await new Promise((resolve) => setTimeout(resolve, 300 * attempt));
    }
  }
}

function lastResort(error) {
  if (["TimeoutError", "VersionError"].includes(error.name) || recall(recordKey)) throw error;
  notice("");
  storage = "memory";
  return memoryStore();
}

function tellTrouble(kind) {
  if (kind === "blocked") {
    guard.ready(); // it has not stopped, it waits
    notice(t("The app is open in another tab with an older version. Close that tab; this one then goes on by itself."));
  }
  if (kind === "newer") notice(t("Another tab started a newer version of the app. This one no longer saves. Reload it."), reloading);
}

// announcing tells the other tabs after each change of the log. When the storage
// does not answer it offers a fresh page: sometimes nothing else helps.
function announcing(log) {
  const told = { ...log, setMeta: (name, value) => { went(name, value); return log.setMeta(name, value); } };
  let failing = false;
  for (const name of ["write", "take"]) {
    told[name] = async (...args) => {
      const result = await withRoom(() => log[name](...args)).catch((error) => {
        failing = error.name !== "QuotaExceededError";
        if (failing) notice(t("The phone's storage does not answer. What was saved before is safe. If the next press fails too, reload."), reloading);
        throw error;
      });
      if (failing) notice("");
      failing = false;
      if (storage === "indexeddb") remember(recordKey, "yes");
      if (name === "write") done();
      announce();
      return result;
    };
  }
  return told;
}

function keepBeside(key, value) {
  remember(key, value);
  applySenses();
}

// request looks for a newer app when the server needs one.
async function request(...args) {
  const reply = await http(...args);
  if (reply.status === outdated) seek();
  return reply;
}

async function compiled() {
  module = await guard.program;
  performance.mark("sc-compiled");
}

async function launch() {
  const go = new Go();
  const instance = await WebAssembly.instantiate(module, go.importObject);
  const ended = go.run(instance).then(() => undefined, () => undefined);
  const mine = { seam: globalThis.strutcard, ended };
  program = mine;
  ended.then(() => { if (program === mine) relaunch(); });
  const reply = await answered(mine, () => mine.seam.start());
  if (!reply) throw new Error("the program ended at its start");
}

// answered waits for a reply, for the end of the program, or for patience. A sync
// may take as long as a slow link needs: each of its requests has an end.
async function answered(mine, call, patient) {
  const ends = [mine.ended];
  if (!patient) ends.push(new Promise((resolve) => setTimeout(resolve, actPatience)));
  try {
    const text = await Promise.race([call(), ...ends]);
    return text === undefined ? null : JSON.parse(text);
  } catch (error) {
    console.error(error);
    return null;
  }
}

async function act(name, args) {
  const mine = program;
  const reply = await answered(mine, () => mine.seam.act(name, JSON.stringify(args)), name === "sync");
  if (!reply && program === mine) await relaunch();
  if (name === "join" && reply?.ok) sync(); // at once: what the shop has may be long awaited
  return reply;
}

// input passes typing on; a program that has just died gets it after its restart.
function input(key, value) {
  try {
    return program.seam.input(key, value);
  } catch {
    return relaunch().then(() => program.seam.input(key, value));
  }
}

let relaunching = null;

/** relaunch starts a fresh program over the same log, once a minute at most. */
function relaunch() {
  relaunching ??= again().finally(() => { relaunching = null; });
  return relaunching;
}

async function again() {
  const soon = performance.now() - lastDeath < restartPause;
  lastDeath = performance.now();
  try {
    if (soon) throw new Error("the program ended twice");
    await launch();
    notice(storage === "memory" ? t("Restarted.") : t("Restarted. What was saved is safe."));
  } catch (error) {
    console.error(error);
    program = { seam: deaf, ended: new Promise(() => {}) };
    guard.broken(storage === "indexeddb");
  }
}

// deaf answers in place of a program that is gone, so that nothing else breaks.
const deaf = { act: async () => '{"ok":false}', input: () => {} };

const look = () => act("look", {});
const sync = () => { if (document.visibilityState === "visible") act("sync", {}); };
const tick = () => { if (document.visibilityState === "visible") act("tick", {}); };

// followPage looks and syncs when the person comes back, and saves when they go:
// nothing is certain to run later.
function followPage() {
  follow(look);
  registerWorker(look, () => notice(t("Another tab started a newer version of the app. Reload this one when it suits you."), reloading));
  document.addEventListener("visibilitychange", () => (document.visibilityState === "visible" ? arrive() : leave()));
  addEventListener("pagehide", leave);
  addEventListener("pageshow", (event) => { if (event.persisted) arrive(); });
  addEventListener("focus", () => lead());
  addEventListener("online", sync);
  addEventListener("hashchange", followLink);
  addEventListener("beforeinstallprompt", look); // guard.js keeps it
  addEventListener("appinstalled", look);
  addEventListener("error", (event) => { if (event.error instanceof WebAssembly.RuntimeError) relaunch(); });
  syncNow();
  setInterval(tick, tickEvery);
  addEventListener("click", unlockAlarm);
}

// syncNow syncs, and again after a while that differs: phones that lost one server
// together do not all come back together.
function syncNow() {
  sync();
  setTimeout(syncNow, syncEvery * (0.5 + Math.random()));
}

function arrive() {
  lead();
  wakeAgain();
  checkForUpdate();
  act("arrive", {});
  sync();
}

function leave() {
  silence();
  flush();
  keepSnapshot();
}

// followLink passes an invitation on and takes it out of the address, so that it
// stays in no history. Nothing is redeemed until the person presses.
function followLink() {
  const invite = location.hash.slice(1);
  if (location.pathname !== "/join" || !invite) return;
  history.replaceState(history.state, "", "/");
  act("link", { invite });
}
