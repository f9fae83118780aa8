// input.js hears every press and every typed letter on the page and passes them
// on. Nothing on the page has a listener of its own, so painting loses none.
import { unsent } from "./edit.js";
import { byKeys, keepFocus, showFocus } from "./focus.js";
import { paints } from "./paint.js";
import { gravity } from "./sensors.js";
import { recall, remember } from "./host.js";
import { take } from "./media.js";
import { t } from "./words.js";
import { readAloud, refused } from "./senses.js";

const draftPause = 300; // ms after the last letter until Go hears of it
const settlePause = 300; // ms in which a second tap of the same finger is not a press
const waitFor = 3000; // ms; a press that takes longer no longer holds up the others

const acting = new Set(); // presses that have not settled
const typed = new Map(); // draft key -> field
let busyUntil = 0;
let timer = 0;
let settled = 0; // the timer of a screen that rests
let seam = null;

/** listen starts hearing. seam is {act(name, args), input(key, value)}. */
export function listen(given) {
  seam = given;
  document.addEventListener("click", onClick);
  document.addEventListener("submit", onSubmit);
  document.addEventListener("keydown", onKey);
  document.addEventListener("input", onInput);
  document.addEventListener("change", onChange);
  document.addEventListener("cancel", () => cameraOpen(false));
}

function onClick(event) {
  cameraOpen(Boolean(event.target.matches?.("[data-take]")));
  const sense = event.target.closest?.("[data-sense]");
  if (sense) {
    event.preventDefault();
    feel(sense);
    return;
  }
  const aloud = event.target.closest?.("[data-aloud]");
  if (aloud) return readAloud(aloud.dataset.aloud);
  const control = event.target.closest?.("[data-do]");
  if (!control || control instanceof HTMLFormElement) return;
  event.preventDefault();
  press(control, control.dataset.do, argumentsOf(control));
}

// feel reads the motion sensor into a half-typed value, like typing it.
async function feel(button) {
  const { into } = button.dataset;
  const words = button.textContent;
  const had = document.activeElement;
  button.disabled = true;
  try {
    seam.input(into, await gravity((text) => { button.textContent = text; }));
  } catch (error) {
    await seam.act("no_sensor", { why: error.message });
  } finally {
    button.disabled = false;
    button.textContent = words;
    if (had === button) keepFocus(button);
  }
}

const cameraKey = "sc-camera";

// cameraOpen remembers that the camera was opened: it may cost the page its life.
function cameraOpen(open) {
  if (open || recall(cameraKey)) remember(cameraKey, open ? "open" : "");
}

/** tellLostPhoto says that the camera was open when the page died. */
export function tellLostPhoto() {
  if (recall(cameraKey)) seam.act("no_photo", { why: "lost" });
  cameraOpen(false);
}

function onChange(event) {
  const field = event.target;
  if (field.type !== "file" || field.files.length === 0) return;
  if (field.dataset.text !== undefined) return pass(field);
  if (field.dataset.take === undefined) return;
  cameraOpen(false);
  snap(field);
}

// pass hands the text of a chosen file to its action. A file that cannot be read
// is handed over as empty, and the action says so.
async function pass(field) {
  const text = await field.files[0].text().catch(() => "");
  field.value = ""; // the same file can be chosen again
  press(field, field.dataset.text, { text });
}

// snap keeps the chosen picture first and has it recorded then: the log never
// names a picture that was not kept. Other presses go on meanwhile.
async function snap(field) {
  const taking = take(field.files[0]);
  const label = field.closest("label")?.querySelector("span");
  const words = label?.textContent;
  const args = Object.fromEntries([...new FormData(field.form)].filter(([, value]) => typeof value === "string"));
  const had = document.activeElement;
  acting.add(taking);
  showActing();
  field.disabled = true;
  if (label) label.textContent = t("Keeping the photo…");
  flush();
  try {
    await seam.act("photo", { ...args, ...await taking });
  } catch (error) {
    console.warn(error);
    await seam.act("no_photo", { why: error.name });
  } finally {
    acting.delete(taking);
    showActing();
    field.disabled = false;
    field.value = ""; // the same picture can be chosen again
    if (label) label.textContent = words;
    if (had === field) keepFocus(field);
  }
}

function onSubmit(event) {
  const form = event.target;
  if (!form.dataset.do) return;
  event.preventDefault();
  const args = argumentsOf(form);
  for (const [name, value] of new FormData(form, event.submitter)) {
    if (typeof value === "string") args[name] = value;
  }
  press(event.submitter ?? form, form.dataset.do, args);
}

// Enter in a form with several buttons would press the first of them. That is a
// choice, and it is the person's: "keep this torque" must never be hit by Enter.
function onKey(event) {
  if (event.key !== "Enter") return;
  const { target } = event;
  const inField = target instanceof HTMLInputElement && target.form?.dataset.do;
  if (inField && target.form.querySelectorAll("button[type=submit], button:not([type])").length > 1) {
    event.preventDefault();
    if (!byKeys()) target.blur(); // the keyboard on the screen goes away
  }
  if (event.repeat && target.closest?.("[data-do], button")) event.preventDefault();
}

/** argumentsOf reads an action's arguments from the data attributes. */
export function argumentsOf(element) {
  const args = {};
  for (const { name, value } of element.attributes) {
    if (!name.startsWith("data-")) continue;
    const key = name.slice("data-".length);
    if (!["do", "draft", "acting"].includes(key)) args[key] = value;
  }
  return args;
}

// press locks before anything is awaited, so that a second tap finds the lock.
async function press(control, name, args) {
  const key = name + JSON.stringify(args);
  if (acting.has(key) || deaf()) return;
  acting.add(key);
  showActing();
  busyUntil = Date.now() + waitFor;
  control.dataset.acting = "";
  flush();
  const before = paints();
  try {
    const reply = await seam.act(name, args);
    if (reply && !reply.ok) refused();
  } finally {
    acting.delete(key);
    showActing();
    busyUntil = 0;
    delete control.dataset.acting;
    if (paints() !== before) settle();
    showFocus();
  }
}

// deaf says whether a press is not one now. A clock that was set back meanwhile, as
// when a phone finds a network, makes nothing deaf.
function deaf() {
  const left = busyUntil - Date.now();
  return left > 0 && left <= waitFor;
}

// showActing says on the root that a press is under way: the pressed control
// itself may be painted anew before it settles.
function showActing() {
  document.documentElement.toggleAttribute("data-busy", acting.size > 0);
}

// settle lets a new screen rest for a moment: the second tap of a double tap
// must not press what has just appeared under the finger.
function settle() {
  const root = document.documentElement;
  busyUntil = Date.now() + settlePause;
  root.dataset.settling = "";
  clearTimeout(settled);
  settled = setTimeout(() => { delete root.dataset.settling; }, settlePause);
}

function onInput(event) {
  const field = event.target;
  const key = field.dataset?.draft;
  if (key === undefined) return;
  typed.set(key, field);
  unsent.add(field);
  field.form?.querySelector(".result")?.classList.add("old"); // until a paint with this value
  clearTimeout(timer);
  timer = setTimeout(flush, draftPause);
}

/** flush passes on what was typed and not yet passed on. */
export function flush() {
  clearTimeout(timer);
  const fields = [...typed];
  typed.clear();
  for (const [key, field] of fields) {
    Promise.resolve(seam.input(key, field.value)).finally(() => {
      if (typed.get(key) !== field) unsent.delete(field); // it has not been typed in again
    });
  }
}
