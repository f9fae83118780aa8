// host.js is what the page does for Go beside painting and storing.
import { notice } from "./notice.js";
import { tellDark } from "./senses.js";
import { t } from "./words.js";

const state = { persisted: false, wanted: false };
let sentinel = null;

const standalone = () => matchMedia("(display-mode: standalone)").matches || navigator.standalone === true;

/** facts is the part of env() that this file knows. */
export function facts() {
  return { online: navigator.onLine, standalone: standalone(), persisted: state.persisted, wake: sentinel !== null, install: way() };
}

// way is how the app can come to the home screen. Only Apple's browsers know
// navigator.standalone; they have no call for it.
function way() {
  if (standalone()) return "";
  if (guard.installing) return "prompt";
  return "standalone" in navigator ? "share" : "";
}

/** install asks the person; the browser allows one question for each offer. */
export function install() {
  guard.installing?.prompt();
  guard.installing = null;
}

/** http carries one request. It rejects only when no answer came. */
export async function http(method, path, body, token, timeoutMs) {
  const headers = {};
  if (token) headers.Authorization = `Bearer ${token}`;
  if (body) headers["Content-Type"] = "application/json";
  const response = await fetch(path, {
    method, headers, body: body ?? undefined,
    credentials: "omit", cache: "no-store", redirect: "error", signal: AbortSignal.timeout(timeoutMs),
  });
  const bytes = new Uint8Array(await response.arrayBuffer());
  return { status: response.status, type: response.headers.get("Content-Type") ?? "", body: bytes };
}

/** learnPersisted finds out whether storage is kept when space runs short. */
export async function learnPersisted() {
  state.persisted = (await navigator.storage?.persisted?.().catch(() => false)) ?? false;
}

export function persist() {
  navigator.storage?.persist?.().then((kept) => { state.persisted = kept; }, () => {});
}

/** wake keeps the screen on while wanted; the browser drops it when the page hides. */
export function wake(on) {
  state.wanted = on;
  if (!on) {
    sentinel?.release().catch(() => {});
    return;
  }
  if (sentinel || document.visibilityState !== "visible") return;
  if (!navigator.wakeLock) return tellDark();
  navigator.wakeLock.request("screen").then((got) => {
    if (!state.wanted || sentinel) return got.release();
    sentinel = got;
    got.addEventListener("release", () => {
      sentinel = null;
      if (state.wanted) wake(true); // taken away while the page is in view, as on a low battery
    });
  }).catch(tellDark);
}

/** wakeAgain asks once more after the page came back. */
export function wakeAgain() { if (state.wanted) wake(true); }

let sound = null; // a browser lets a page sound only after a press on it

/** unlockAlarm makes ready for sound; it must run inside a press. */
export function unlockAlarm() {
  if (!globalThis.AudioContext) return;
  sound ??= new AudioContext();
  if (sound.state !== "running") sound.resume().catch(() => {});
}

/** alarm sounds three times, high and low, and vibrates. A phone that is muted,
 * or that knows no vibration, does less; the screen asks all the same. */
export function alarm() {
  navigator.vibrate?.([400, 200, 400, 200, 400]);
  for (const at of [0, 0.7, 1.4]) beep([[880, at], [660, at + 0.3]], 0.28, 0.5, "square");
}

/** beep sounds notes of [hertz, seconds from now], each for as long as given. */
export function beep(notes, long, gain = 0.2, type = "sine") {
  if (sound?.state !== "running") return;
  for (const [frequency, at] of notes) {
    const tone = new OscillatorNode(sound, { type, frequency });
    tone.connect(new GainNode(sound, { gain })).connect(sound.destination);
    tone.start(sound.currentTime + at);
    tone.stop(sound.currentTime + at + long);
  }
}

const themes = ["paper", "board", "sun"];
const barColours = { paper: "#faf6ed", board: "#15181a", sun: "#ffffff" };

/** theme sets one of the three, or with "" follows the phone. */
export function theme(name) {
  const root = document.documentElement;
  if (themes.includes(name)) root.dataset.theme = name;
  else delete root.dataset.theme;
  const shown = root.dataset.theme ?? (matchMedia("(prefers-color-scheme: dark)").matches ? "board" : "paper");
  document.querySelector("meta[name=theme-color]")?.setAttribute("content", barColours[shown]);
  remember("sc-theme", name);
}

/** remember keeps a small convenience; a browser that refuses it loses nothing that counts. */
export function remember(key, value) {
  try { localStorage.setItem(key, value); } catch { /* full or forbidden */ }
}

export function recall(key) {
  try { return localStorage.getItem(key) ?? ""; } catch { return ""; }
}

/** download hands a text over as a file. An installed app on iOS saves nothing
 * through a link, so there it goes through the share sheet. */
export function download(name, type, text) {
  const file = new File([text], name, { type });
  if (navigator.standalone === true && navigator.canShare?.({ files: [file] })) {
    share(file, text);
    return;
  }
  save(file);
  if (navigator.standalone === true) offerText(text);
}

// share opens the phone's share sheet. The press that asked for it may be too long
// ago for the browser: then a fresh one is asked for. Some browsers never say how
// it ended, so nothing waits for that.
async function share(file, text) {
  try {
    await navigator.share({ files: [file] });
  } catch (error) {
    if (error.name === "AbortError") return; // the person closed it
    if (error.name !== "NotAllowedError") return offerText(text);
    notice(t("The file %s is ready.", file.name), { label: t("Hand it over"), press: () => { notice(""); share(file, text); } });
  }
}

function save(file) {
  const link = document.createElement("a");
  link.href = URL.createObjectURL(file);
  link.download = file.name;
  document.body.append(link);
  link.click();
  link.remove();
  setTimeout(() => URL.revokeObjectURL(link.href), 60000);
}

// offerText is the last way out of an app that can neither save nor share.
function offerText(text) {
  notice(t("If no file was saved: copy its text, and paste it into a note or a message."), { label: t("Copy the text"), press: async () => {
    try {
      await navigator.clipboard.writeText(text);
      notice(t("Copied. Paste it where it is safe."));
    } catch {
      notice(t("The phone did not let the app copy it. Open this address in the browser and save the copy there."));
    }
  } });
}

const printPatience = 3000; // ms for pictures

/** printOut opens the print dialogue once every picture is there: what has not
 * been drawn yet would be missing on paper. */
export async function printOut() {
  const drawn = [...document.images].map((image) => {
    image.loading = "eager";
    return image.decode().catch(() => {}); // one that is gone stays out
  });
  await Promise.race([Promise.all(drawn), new Promise((resolve) => setTimeout(resolve, printPatience))]);
  window.print();
}
