// The keys of the list of jobs. Each only moves the focus: whatever they do, the Tab
// key does too. They act while nobody types, without Ctrl, Alt or Meta, and one can
// switch them off (WCAG 2.1.4).
const field = document.getElementById('q');
const help = document.getElementById('keys');
const show = document.getElementById('show-keys');
const use = document.getElementById('use-keys');
const rows = [...document.querySelectorAll('#queue tbody th a')];
const kept = 'strutcard-queue-keys';

// remember keeps the choice where the browser lets it.
function remember(on) {
  try {
    localStorage.setItem(kept, on ? 'on' : 'off');
  } catch {
    // It holds until the page is left.
  }
}

function remembered() {
  try {
    return localStorage.getItem(kept) !== 'off';
  } catch {
    return true;
  }
}

// step moves to another row, at first to the topmost; false when there is none.
function step(by) {
  const next = rows[rows.indexOf(document.activeElement) + by];
  next?.focus();
  return Boolean(next);
}

const keys = {
  '/': () => (field.focus(), field.select(), true),
  j: () => step(1),
  k: () => step(-1),
  '?': () => (help.showModal(), true),
};

// Arrows scroll the page, unless they are pressed on a row or on nothing.
const arrows = { ArrowDown: keys.j, ArrowUp: keys.k };

function actOn(event) {
  const on = event.target;
  if (!use.checked || help.open || event.defaultPrevented || event.isComposing || event.ctrlKey || event.altKey || event.metaKey) return;
  if (on.closest('input, textarea, select, [contenteditable]')) return;
  const act = keys[event.key] ?? (on === document.body || rows.includes(on) ? arrows[event.key] : undefined);
  if (act?.()) event.preventDefault();
}

use.checked = remembered();
use.addEventListener('change', () => remember(use.checked));
show.addEventListener('click', () => help.showModal());
show.hidden = false;
document.addEventListener('keydown', actOn);
