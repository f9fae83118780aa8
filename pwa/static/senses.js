// senses.js is the app for ears and fingers: a tick that is felt, sounds, reading
// aloud, and larger things to press. Each can be switched in the settings.
import { recall, remember, beep } from "./host.js";
import { notice } from "./notice.js";
import { t } from "./words.js";

const on = (name) => recall(`sc-${name}`) === "on";
const tick = 20; // ms of a tick that is felt through a glove

/** applySenses puts the page in the size that was chosen. */
export function applySenses() {
  document.documentElement.toggleAttribute("data-glove", on("glove"));
  if (!on("aloud")) lastRead = "";
}

/** done tells ears and fingers that an entry is on the disk. */
export function done() {
  if (recall("sc-tick") !== "off") navigator.vibrate?.(tick);
  if (on("sounds")) beep([[660, 0], [880, 0.09]], 0.08);
}

/** refused tells them that a press was not carried out. */
export function refused() {
  if (recall("sc-tick") !== "off") navigator.vibrate?.([tick, 80, tick, 80, tick]);
  if (on("sounds")) beep([[220, 0], [180, 0.18]], 0.16);
}

let lastRead = "";

/** follow reads a new step aloud by itself, where that was asked for. */
export function followAloud() {
  const text = document.querySelector("[data-aloud]")?.dataset.aloud ?? "";
  if (!on("aloud") || text === lastRead) return;
  lastRead = text;
  if (text) readAloud(text);
  else globalThis.speechSynthesis?.cancel();
}

/** readAloud reads a text from its beginning; what was being read ends. A sentence
 * at a time: some voices fall silent in the middle of a long text. */
export function readAloud(text) {
  const { speechSynthesis } = globalThis;
  const voice = voiceOf(speechSynthesis?.getVoices() ?? []);
  if (!voice) {
    notice(t("This phone has no voice for this language that works without a signal. The words stand on the screen."));
    return;
  }
  speechSynthesis.cancel();
  for (const sentence of text.match(/[^.?!]+[.?!]*(\s|$)|\S+/g) ?? []) {
    const saying = new SpeechSynthesisUtterance(sentence);
    saying.voice = voice;
    saying.lang = voice.lang;
    saying.rate = 0.9; // there may be noise
    speechSynthesis.speak(saying);
  }
}

// voiceOf prefers a voice that needs no network: a text sent away to be spoken would
// also leave the phone.
function voiceOf(voices) {
  const tag = document.documentElement.lang;
  return voices.find((one) => one.localService && one.lang.replace("_", "-").split("-")[0] === tag);
}

/** silence ends what is being read, as when the page goes away. */
export const silence = () => globalThis.speechSynthesis?.cancel();

/** tellDark says once a day that the screen may go dark. */
export function tellDark() {
  const today = new Date().toDateString();
  if (recall("sc-dark") === today) return;
  remember("sc-dark", today);
  notice(t("This phone lets the screen go dark. Nothing is lost when it does: touch it, and go on at the same place."));
}
