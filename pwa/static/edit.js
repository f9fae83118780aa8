// edit.js makes one part of a page the same as another, changing only what differs.
// A mentor's page has it from here too.

export const fields = "input, textarea, select";

/** unsent holds the fields whose newest typing Go does not have yet. */
export const unsent = new WeakSet();

/** edit makes from's children the same as to's, keeping nodes that match. */
export function edit(from, to) {
  const wanted = [...to.childNodes];
  const ids = new Set(wanted.map((node) => node.id));
  let at = from.firstChild;
  const drop = () => {
    const gone = at;
    at = at.nextSibling;
    gone.remove();
  };
  for (const node of wanted) {
    while (at?.id && !ids.has(at.id)) drop(); // else nothing behind it would match
    const match = findMatch(from, at, node);
    if (!match) {
      from.insertBefore(node, at);
      continue;
    }
    while (at !== match) drop(); // what lies between is not wanted any more
    at = match.nextSibling;
    editNode(match, node);
  }
  while (at) drop();
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

/** held is the value that the person sees. */
export const held = (field) => (field.type === "checkbox" || field.type === "radio" ? field.checked : field.value);

/** given is the value that the html states, whatever was typed since. */
export function given(field) {
  if (field instanceof HTMLSelectElement) {
    return (field.querySelector("option[selected]") ?? field.options[0])?.value ?? "";
  }
  if (field.type === "checkbox" || field.type === "radio") return field.defaultChecked;
  return field.defaultValue;
}
