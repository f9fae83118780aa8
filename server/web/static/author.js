// Asks the server what is wrong with what stands in the form, a moment after the
// last key. Without scripts the button "Check" does the same.
const form = document.querySelector('form[data-check]');
const note = document.getElementById('check-note');
const pause = 500; // ms
let timer = 0;
let asked = 0;

async function check() {
  const turn = ++asked;
  const body = new URLSearchParams(new FormData(form));
  body.set('op', 'check');
  try {
    const reply = await fetch(form.getAttribute('action'), { method: 'POST', body });
    const fresh = new DOMParser().parseFromString(await reply.text(), 'text/html');
    if (turn !== asked) return; // a later one is on its way
    note.hidden = Boolean(fresh.getElementById('check'));
    for (const region of document.querySelectorAll('[data-live]')) {
      const now = fresh.getElementById(region.id);
      if (now && !region.contains(document.activeElement)) region.replaceChildren(...now.childNodes);
    }
  } catch {
    if (turn === asked) note.hidden = false;
  }
}

// A number that is typed anew needs its unit chosen anew: a unit left over from
// the old number is the classic slip.
function dropUnit(input) {
  const unit = form.elements[input.name + '.unit'];
  if (unit && input !== unit) unit.value = '';
}

if (form) {
  form.addEventListener('input', (e) => {
    dropUnit(e.target);
    clearTimeout(timer);
    timer = setTimeout(check, pause);
  });
}
