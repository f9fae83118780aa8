// Keeps a mentor's page fresh while it is looked at, and of use without a signal:
// the job as it was last seen stays, and comments wait until they can be sent.
// Without scripts the page works as any other.
import { edit } from '/edit.js';

const place = location.pathname; // of this one link; its worker knows the same name
const shelf = `mentor-${place}`;
const files = ['/app.css', '/icon.svg', '/edit.js', '/static/look.js', '/static/fragment.js'];
const every = 5000; // ms between two looks
const patience = 15000; // ms for one answer
const gone = [401, 403, 404, 410]; // the link opens nothing any more

const says = document.getElementById('look').dataset; // in the language of the page
const main = document.querySelector('main');
const apart = document.createElement('p'); // there is no signal
const refusal = document.createElement('p'); // what the server did not do
const waiting = document.createElement('section');
let known = { unsent: [], typed: {}, heard: 0 };
let tag = ''; // the server's name for the page as it is shown
let busy = false;
let timer = 0;

// ---- what this browser remembers: words that were not sent, and when it last heard ----
// It stands in a database and not in localStorage, which a killed browser loses the
// last seconds of.

const opening = new Promise((yes, no) => {
  const request = indexedDB.open('mentor', 1);
  request.onupgradeneeded = () => request.result.createObjectStore('memory');
  request.onsuccess = () => yes(request.result);
  request.onerror = () => no(request.error);
});

async function memory(mode, work) {
  const act = (await opening).transaction('memory', mode, { durability: 'strict' });
  const request = work(act.objectStore('memory'));
  return new Promise((yes, no) => {
    act.oncomplete = () => yes(request.result);
    act.onabort = () => no(act.error);
  });
}

// recall answers nothing where storage is refused: then all this holds only while
// the page is open.
const recall = () => memory('readonly', (m) => m.get(place)).catch(() => undefined);

const remember = () => memory('readwrite', (m) => m.put(known, place)).then(() => true, () => false);

const fieldKey = (field) => `${field.form.getAttribute('action')} ${field.form.elements.step?.value ?? ''} ${field.name}`;

function restoreTyping() {
  for (const field of main.querySelectorAll('form textarea')) {
    const typed = known.typed[fieldKey(field)];
    if (typed && !field.value) field.value = typed;
  }
}

// ---- looking ----

async function ask(path, options = {}) {
  return fetch(path, { cache: 'no-store', signal: AbortSignal.timeout(patience), ...options });
}

// isOurs guards against the page of a guest network, which answers anything.
const isOurs = (reply) => reply.ok && reply.headers.has('Link-Ends');

async function look() {
  if (busy || document.hidden) return;
  busy = true;
  try {
    await sendAll();
    await take(await ask(place, { headers: tag ? { 'If-None-Match': tag } : {} }));
  } catch {
    sayApart();
  } finally {
    busy = false;
  }
}

// take shows what the server answered; it throws when something else answered.
async function take(reply) {
  if (reply.status === 304) return heard();
  if (gone.includes(reply.status)) return end(reply.status, await reply.text());
  if (!isOurs(reply)) throw new Error(`no answer of the shop's server: ${reply.status}`);
  const name = reply.headers.get('ETag');
  const kept = reply.clone();
  show(await reply.text());
  tag = name;
  heard();
  await keep(kept);
}

const mainOf = (html) => new DOMParser().parseFromString(html, 'text/html').querySelector('main');

function show(html) {
  edit(main, mainOf(html));
  restoreTyping();
}

function heard() {
  known.heard = Date.now();
  remember();
  apart.textContent = '';
}

function sayApart() {
  const since = known.heard ? new Date(known.heard).toLocaleString([], { dateStyle: 'medium', timeStyle: 'short' }) : '';
  apart.textContent = since ? says.apart.replace('{time}', since) : says.apartNew;
}

// end takes the job off the screen, and out of this browser once the link has ended.
// Words that were never sent stay, so that they can be said another way.
async function end(status, html) {
  clearInterval(timer);
  const page = mainOf(html);
  if (page) main.replaceChildren(...page.childNodes);
  const typed = known.typed;
  known.typed = {};
  apart.textContent = '';
  for (const [key, text] of Object.entries(typed)) { // half written is not lost either
    if (text && key.startsWith(`${place}/comments`)) known.unsent.push({ once: newName(), about: '', of: says.unfinished, text });
  }
  if (status === 401) return showWaiting(says.again);
  await remember();
  showWaiting(says.ended);
  await globalThis.caches?.delete(shelf);
}

// ---- keeping ----

async function keep(reply) {
  if (!globalThis.caches) return; // not a secure page: nothing is kept
  try {
    const cache = await caches.open(shelf);
    await cache.put(place, reply);
  } catch { /* no room: the page goes on without a copy */ }
}

async function keepFiles() {
  if (!globalThis.caches || !navigator.serviceWorker) return;
  try {
    const cache = await caches.open(shelf);
    for (const file of files) {
      const reply = await ask(file);
      if (reply.ok && !reply.headers.get('Content-Type')?.startsWith('text/html')) await cache.put(file, reply);
    }
    await navigator.serviceWorker.register('/look/worker.js', { scope: '/look/' });
  } catch { /* without a signal or room the next visit tries again */ }
}

// ---- speaking ----

const newName = () => Array.from(crypto.getRandomValues(new Uint8Array(16)), (b) => b.toString(16).padStart(2, '0')).join('');

async function say(form) {
  const about = form.elements.about;
  const text = form.elements.text.value.trim();
  if (!text) return;
  known.unsent.push({ once: newName(), about: about.value, of: about.selectedOptions[0]?.label ?? '', text });
  delete known.typed[fieldKey(form.elements.text)];
  form.reset();
  showWaiting((await remember()) ? '' : says.unkept);
  await look();
  if (known.unsent.length > 0) waiting.scrollIntoView({ block: 'center' }); // where they went to
}

async function sendAll() {
  for (const one of known.unsent.filter((u) => !u.why)) {
    const reply = await ask(`${place}/comments`, { method: 'POST', body: new URLSearchParams({ about: one.about, text: one.text, once: one.once }) });
    if (gone.includes(reply.status)) return; // the look that follows says so
    if (reply.status >= 400 && reply.status < 500 && reply.status !== 429) {
      one.why = mainOf(await reply.text())?.querySelector('h1')?.textContent ?? says.refused;
    } else if (isOurs(reply)) { // it led back to the page, so it was written
      known.unsent = known.unsent.filter((u) => u !== one);
      tag = '';
    } else {
      throw new Error(`no answer of the shop's server: ${reply.status}`);
    }
    remember();
    showWaiting();
  }
}

function showWaiting(words = '') {
  const line = (tag, text) => Object.assign(document.createElement(tag), { textContent: text });
  waiting.replaceChildren();
  waiting.hidden = known.unsent.length === 0;
  if (waiting.hidden) return;
  waiting.append(line('h2', says.wait), line('p', words || says.waitHow));
  for (const one of known.unsent) {
    const change = line('button', says.change);
    change.className = 'second';
    change.type = 'button';
    change.addEventListener('click', () => takeBack(one));
    waiting.append(line('p', [one.of, one.text, one.why].filter(Boolean).join(' · ')), change);
  }
}

function takeBack(one) {
  const field = main.querySelector('form[data-keep="comment"] textarea');
  if (!field) return;
  known.unsent = known.unsent.filter((u) => u !== one);
  field.form.elements.about.value = one.about;
  field.value = known.typed[fieldKey(field)] = one.text;
  remember();
  showWaiting();
  field.focus();
}

// release needs the server at once: a hold point that somebody may come back to is
// never released later, unseen.
async function release(form) {
  const button = form.querySelector('button');
  button.disabled = true;
  refusal.textContent = '';
  try {
    const key = fieldKey(form.elements.text);
    const reply = await ask(form.action, { method: 'POST', body: new URLSearchParams(new FormData(form)) });
    if (reply.status >= 400 && !gone.includes(reply.status)) {
      const said = mainOf(await reply.text());
      refusal.textContent = [said?.querySelector('h1'), said?.querySelector('p')].map((e) => e?.textContent ?? '').join(' ');
      return;
    }
    tag = '';
    delete known.typed[key];
    await take(reply);
  } catch {
    refusal.textContent = says.unknown;
  } finally {
    button.disabled = false;
  }
}

// ---- begin ----

apart.setAttribute('role', 'status');
refusal.setAttribute('role', 'alert');
apart.className = refusal.className = 'aside';
waiting.setAttribute('aria-label', says.waitName);
waiting.className = 'ask';
main.before(apart, refusal, waiting);
known = { ...known, ...await recall() };
showWaiting();
restoreTyping();

main.addEventListener('input', (event) => {
  if (!event.target.matches('form textarea')) return;
  known.typed[fieldKey(event.target)] = event.target.value;
  remember();
});
main.addEventListener('submit', (event) => {
  const form = event.target;
  const does = form.matches('[data-keep="comment"]') ? say : form.matches('[action$="/release"]') ? release : null;
  if (!does) return;
  event.preventDefault();
  does(form);
});
document.addEventListener('visibilitychange', look);
addEventListener('online', look);
timer = setInterval(look, every);
look().then(keepFiles);
