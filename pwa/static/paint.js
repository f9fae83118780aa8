// paint.js puts Go's regions on the page. It changes only what differs, so that
// the focus, the cursor, the keyboard and the scroll stay where they are.
import { remember } from "./host.js";

const snapshotKey = "sc-snapshot";
const snapshotMax = 200 * 1024; // characters; storage for small things is small

const shown = new Map(); // region id -> html as Go gave it
let keeping = 0;
let count = 0;

/** unsent holds the fields whose newest typing Go does not have yet. */
export const unsent = new WeakSet();

/** paints counts the changes of the page, to tell whether a press changed it. */
export const paints = () => count;

/** paint replaces the regions whose html changed. A region with fields is always
 * compared: what was typed there may have been recorded since. */
export function paint(regions) {
  for (const [id, html] of Object.entries(regions)) {
    const region = document.getElementById(id);
    if (!region) {
      console.error(`paint: no region ${id}`);
      continue;
    }
    const same = shown.get(id) === html;
    if (same && !region.querySelector(fields)) continue;
    change(region, html);
    if (same) continue;
    shown.set(id, html);
    count++;
    keepSoon();
  }
}

const fields = "input, textarea, select";

// change takes over another screen whole; on the same screen it edits.
function change(region, html) {
  const next = document.createElement("template");
  next.innerHTML = html;
  const heading = (root) => root.querySelector("h1")?.textContent ?? "";
  const before = heading(region);
  const after = heading(next.content);
  const asked = region.querySelector("[data-ask]")?.dataset.ask;
  if (before === after) {
    edit(region, next.content);
    return showQuestion(region, asked);
  }
  const focused = region.contains(document.activeElement);
  region.replaceChildren(next.content);
  scrollTo(0, 0);
  // Someone who hears the screen must learn that it is another one.
  if (focused) region.focus({ preventScroll: true });
  const said = document.getElementById("said");
  if (said && after) said.textContent = after;
  showQuestion(region);
}

// showQuestion scrolls to a question that was not there before: nobody shall
// answer with the button in the foot what stands below the fold.
function showQuestion(region, before) {
  const ask = region.querySelector("[data-ask]");
  if (!ask || ask.dataset.ask === before) return;
  const foot = document.getElementById("r-bar")?.getBoundingClientRect().top ?? innerHeight;
  const { top, bottom } = (ask.querySelector(".question") ?? ask).getBoundingClientRect();
  const head = parseFloat(getComputedStyle(ask).scrollMarginTop) || 0;
  if (top < head || bottom > foot) ask.scrollIntoView({ block: "start" });
}

/** edit makes from's children the same as to's, keeping nodes that match. */
export function edit(from, to) {
  const wanted = [...to.childNodes];
  let at = from.firstChild;
  for (const node of wanted) {
    const match = findMatch(from, at, node);
    if (!match) {
      from.insertBefore(node, at);
      continue;
    }
    while (at !== match) { // what lies between is not wanted any more
      const gone = at;
      at = at.nextSibling;
      gone.remove();
    }
    at = match.nextSibling;
    editNode(match, node);
  }
  while (at) {
    const gone = at;
    at = at.nextSibling;
    gone.remove();
  }
}

// findMatch looks ahead for a node's id, and else takes the next node if it is
// of the same sort. Two nodes of different ids never match.
function findMatch(parent, at, node) {
  const id = node.id ?? "";
  if (id) {
    for (let n = at; n; n = n.nextSibling) if (n.id === id && n.nodeName === node.nodeName) return n;
    return null;
  }
  if (!at || at.nodeType !== node.nodeType || at.nodeName !== node.nodeName || at.id) return null;
  // A form belongs to its action: text typed for one must not land in another.
  if (at.dataset?.do !== node.dataset?.do) return null;
  return at;
}

function editNode(from, to) {
  if (from.nodeType !== Node.ELEMENT_NODE) {
    if (from.nodeValue !== to.nodeValue) from.nodeValue = to.nodeValue;
    return;
  }
  if (from.matches(fields)) return editField(from, to);
  if (from.isEqualNode(to) && !from.querySelector(fields)) return;
  editAttributes(from, to);
  edit(from, to);
}

function editAttributes(from, to) {
  for (const { name } of [...from.attributes]) {
    // Whether details are open is the person's; what was pressed stays locked.
    if (name === "open" || name === "data-acting") continue;
    if (!to.hasAttribute(name)) from.removeAttribute(name);
  }
  for (const { name, value } of [...to.attributes]) {
    if (from.getAttribute(name) !== value) from.setAttribute(name, value);
  }
}

// editField takes Go's value, with two exceptions: typing that is not yet with
// Go is never undone, and a field that Go keeps no draft of stays as the person
// left it until Go's own value for it changes.
function editField(from, to) {
  const before = given(from);
  editAttributes(from, to);
  edit(from, to);
  const after = given(to);
  const drafted = to.hasAttribute("data-draft");
  if (unsent.has(from) || (!drafted && before === after)) return;
  if (from.type === "checkbox" || from.type === "radio") from.checked = after;
  else if (from.value !== after) from.value = after;
}

// given is the value that the html states, whatever was typed since.
function given(field) {
  if (field instanceof HTMLSelectElement) {
    return (field.querySelector("option[selected]") ?? field.options[0])?.value ?? "";
  }
  if (field.type === "checkbox" || field.type === "radio") return field.defaultChecked;
  return field.defaultValue;
}

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
