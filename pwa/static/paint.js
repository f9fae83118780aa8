// paint.js puts Go's regions on the page. It changes only what differs, so that
// the focus, the cursor, the keyboard and the scroll stay where they are.
import { edit, fields, given, held } from "./edit.js";
import { beginning, byKeys, keepFocus, staysInView } from "./focus.js";
import { remember } from "./host.js";

const snapshotKey = "sc-snapshot";
const snapshotMax = 200 * 1024; // characters; storage for small things is small

const shown = new Map(); // region id -> html as Go gave it
let keeping = 0;
let count = 0;
let fresh = false; // this paint shows another screen or question

/** paints counts the changes of the page, to tell whether a press changed it. */
export const paints = () => count;

/** paint replaces the regions whose html changed. A region with fields is always
 * compared: what was typed there may have been recorded since. */
export function paint(regions) {
  const focused = document.activeElement;
  const inView = staysInView();
  fresh = false;
  for (const [id, html] of Object.entries(regions)) {
    const region = document.getElementById(id);
    if (!region) {
      console.error(`paint: no region ${id}`);
      continue;
    }
    const same = shown.get(id) === html;
    if (same && !region.querySelector(fields)) continue;
    change(region, html);
    markOld(region);
    if (same) continue;
    shown.set(id, html);
    count++;
    keepSoon();
  }
  if (!focused.isConnected) keepFocus(focused, fresh);
  inView();
}

// markOld marks a result whose form holds other values than Go has worked it out of:
// another paint may come between the typing and the new result.
function markOld(region) {
  for (const result of region.querySelectorAll(".result")) {
    const drafted = result.closest("form")?.querySelectorAll("[data-draft]") ?? [];
    result.classList.toggle("old", [...drafted].some((field) => held(field) !== given(field)));
  }
}

// change takes over another screen whole; on the same screen it edits.
function change(region, html) {
  const next = document.createElement("template");
  next.innerHTML = html;
  const heading = (root) => root.querySelector("h1")?.textContent ?? "";
  const before = heading(region);
  const after = heading(next.content);
  const asked = region.querySelector("[data-ask]")?.dataset.ask;
  const focused = document.activeElement !== document.body;
  if (before === after) {
    edit(region, next.content);
    return showQuestion(region, asked);
  }
  region.replaceChildren(next.content);
  scrollTo(0, 0);
  fresh = true;
  // Someone who hears the screen, or goes by keys, must learn that it is another one.
  if (focused) beginning().focus({ preventScroll: true });
  say(after);
  showQuestion(region);
}

const say = (words) => { document.getElementById("said").textContent = words; };

// showQuestion says a question that was not there before, and scrolls to it: nobody
// shall answer with the button in the foot what stands below the fold.
function showQuestion(region, before) {
  const ask = region.querySelector("[data-ask]");
  if (!ask || ask.dataset.ask === before) return;
  fresh = true;
  const active = document.activeElement;
  if (byKeys() && (region.contains(active) || active === document.body)) ask.focus({ preventScroll: true });
  const question = ask.querySelector(".question");
  say([before ? "" : region.querySelector("h1").textContent, question?.textContent ?? ""].join(" ").trim());
  const foot = document.getElementById("r-bar")?.getBoundingClientRect().top ?? innerHeight;
  const { top, bottom } = (question ?? ask).getBoundingClientRect();
  const head = Math.max(0, document.querySelector(".top").getBoundingClientRect().bottom);
  if (top < head || bottom > foot) ask.scrollIntoView({ block: "start" });
}

/** showAsked shows what is asked on a screen that stood here before Go had painted: the
 * last screen of the life before. */
export const showAsked = () => showQuestion(document.getElementById("r-main"));

function keepSoon() {
  clearTimeout(keeping);
  keeping = setTimeout(keepSnapshot, 500);
}

/** keepSnapshot saves what is shown, to be shown at once next time. */
export function keepSnapshot() {
  clearTimeout(keeping);
  if (shown.size === 0) return;
  const { "r-strip": strip, "r-main": main, "r-bar": bar } = Object.fromEntries(shown);
  const text = JSON.stringify({ "r-strip": strip, "r-main": main, "r-bar": bar });
  remember(snapshotKey, text.length <= snapshotMax ? text : "");
}

/** adopt takes over what guard.js has painted already. */
export function adopt(regions) {
  for (const [id, html] of Object.entries(regions)) {
    if (document.getElementById(id)) shown.set(id, html);
  }
}
