// media.js keeps photos beside the log, in a database of their own: whatever
// happens there, the log goes on. The bytes never reach Go; the log holds their
// hash. Pictures are kept as plain bytes, since some browsers lose blobs, are
// written once under their hash, and are read back before they count. What is
// known of a picture, such as that it was sent, stands in a mark of its own: its
// bytes are never written again.

const name = "strutcard-photos";
const version = 2;
const openPatience = 4000; // ms
const workPatience = 15000; // ms until a transaction is given up
const stores = ["pictures", "thumbs", "marks"];

let opening = null; // the one open in flight or done
let working = Promise.resolve(); // one picture at a time: two at once can kill the tab

function named(name, message) {
  const error = new Error(message);
  error.name = name;
  return error;
}

function database() {
  opening ??= open().catch((error) => { opening = null; throw error; });
  return opening;
}

function open() {
  return new Promise((resolve, reject) => {
    const request = indexedDB.open(name, version);
    let late = false;
    const timer = setTimeout(() => { late = true; reject(named("TimeoutError", "photos: no answer")); }, openPatience);
    request.onupgradeneeded = () => {
      const { result: db } = request;
      for (const store of stores) if (!db.objectStoreNames.contains(store)) db.createObjectStore(store, { keyPath: "sha" });
    };
    request.onerror = () => { clearTimeout(timer); reject(request.error); };
    request.onsuccess = () => {
      clearTimeout(timer);
      const db = request.result;
      if (late) return db.close();
      db.onclose = () => { opening = null; };
      db.onversionchange = () => { db.close(); opening = null; };
      resolve(db);
    };
  });
}

// transact settles with the transaction. A handle that died while the phone
// slept is opened anew, once.
async function transact(mode, work) {
  try {
    return await run(await database(), mode, work);
  } catch (error) {
    if (!["InvalidStateError", "UnknownError", "TransactionInactiveError"].includes(error.name)) throw error;
    opening = null;
    return run(await database(), mode, work);
  }
}

function run(db, mode, work) {
  return new Promise((resolve, reject) => {
    const tx = db.transaction(stores, mode, mode === "readwrite" ? { durability: "strict" } : undefined);
    let request;
    const timer = setTimeout(() => {
      reject(named("TimeoutError", "photos: no answer"));
      try { tx.abort(); } catch { /* it has ended */ }
    }, workPatience);
    tx.oncomplete = () => { clearTimeout(timer); resolve(request?.result); };
    tx.onabort = () => { clearTimeout(timer); reject(tx.error ?? named("AbortError", "photos: transaction aborted")); };
    request = work(...stores.map((store) => tx.objectStore(store)));
  });
}

export const picture = (sha) => transact("readonly", (pictures) => pictures.get(sha));
const thumb = (sha) => transact("readonly", (_, thumbs) => thumbs.get(sha));

/** thumbs lists the hashes of the small pictures. */
export const thumbs = () => transact("readonly", (_, thumbs) => thumbs.getAllKeys());

/** mark keeps what is known of a picture: {sha, bytes, added}, and
 *   epoch    of the server that has it; none: no server is known to
 *   got      it came from the server
 *   refused  epoch of a server that does not take it, and words: why */
export const mark = (one) => transact("readwrite", (_, __, marks) => marks.put(one));

/** survey lists the marks, oldest first; here tells whether the picture itself is
 * still on the phone. It holds the bytes of one picture at most. */
export async function survey() {
  const marks = new Map((await transact("readonly", (_, __, marks) => marks.getAll())).map((one) => [one.sha, one]));
  const here = new Set(await transact("readonly", (pictures) => pictures.getAllKeys()));
  for (const sha of here) {
    if (marks.has(sha)) continue; // kept before there were marks
    const { bytes, added } = await picture(sha);
    marks.set(sha, { sha, bytes: bytes.byteLength, added });
    await mark(marks.get(sha));
  }
  return [...marks.values()].map((one) => ({ ...one, here: here.has(one.sha) })).sort((a, b) => a.added - b.added);
}

const letGo = 10; // pictures at a time

/** withRoom carries out a write. When the phone is full, it first lets go of the
 * oldest pictures that the shop has; the small ones stay. */
export async function withRoom(write) {
  try {
    return await write();
  } catch (error) {
    if (error.name !== "QuotaExceededError" || !await makeRoom().catch(() => false)) throw error;
    return write();
  }
}

async function makeRoom() {
  const sent = (await survey()).filter((one) => one.here && one.epoch).slice(0, letGo);
  await transact("readwrite", (pictures) => { for (const { sha } of sent) pictures.delete(sha); });
  return sent.length > 0;
}

export async function hash(buffer) {
  const sum = await crypto.subtle.digest("SHA-256", buffer);
  return Array.from(new Uint8Array(sum), (b) => b.toString(16).padStart(2, "0")).join("");
}

/** take makes a chosen file small, keeps it, and says what the log needs to know
 * of it, as text. It rejects when anything went wrong: nothing counts as kept. */
export function take(file) {
  const reading = file.arrayBuffer(); // at once: some browsers let the file go
  reading.catch(() => {}); // heard below, when its turn comes
  const taken = working.then(async () => makeAndKeep(await reading, file.type));
  working = taken.catch(() => {});
  return taken;
}

async function makeAndKeep(buffer, type) {
  if (buffer.byteLength === 0) throw named("Empty", "the file holds nothing");
  const { shrink } = await import("./picture.js");
  const { bytes, thumb, width, height } = await shrink(buffer, type);
  const sha = await hash(bytes);
  await withRoom(() => keep({ sha, bytes, width, height }, thumb));
  return { sha256: sha, bytes: String(bytes.byteLength), width: String(width), height: String(height) };
}

// keep writes what is not there yet and reads it back. What comes back as other
// bytes is removed, so that the next try starts afresh.
async function keep(record, small, known) {
  const { sha, bytes } = record;
  const added = Date.now();
  await transact("readwrite", (pictures, thumbs, marks) => {
    pictures.getKey(sha).onsuccess = (event) => {
      if (event.target.result !== undefined) return;
      pictures.add({ ...record, added });
      thumbs.put({ sha, bytes: small });
      marks.put({ sha, bytes: bytes.byteLength, added, ...known });
    };
  });
  const kept = await picture(sha);
  if (!kept || await hash(kept.bytes) !== sha) {
    await transact("readwrite", (...all) => { for (const store of all) store.delete(sha); });
    throw named("DataError", "the photo did not come back as it was written");
  }
  if (shown.get(sha)?.state === "gone") shown.delete(sha);
}

/** adopt keeps a picture that came from the server, and shows it where it is
 * missing. It waits its turn with those that are being taken. */
export function adopt(sha, bytes, epoch) {
  const adopted = working.then(async () => {
    const { thumbnail } = await import("./picture.js");
    await keep({ sha, bytes }, await thumbnail(bytes), { epoch, got: true });
    fill();
  });
  working = adopted.catch(() => {});
  return adopted;
}

/** size is the length of a kept picture in bytes, 0 when it is not here. */
export const size = async (sha) => (await picture(sha))?.bytes.byteLength ?? 0;

/** usable writes and removes a trial entry; it rejects when that fails. */
export function usable() {
  return transact("readwrite", (pictures) => {
    pictures.put({ sha: "trial" });
    pictures.delete("trial");
  });
}

const shown = new Map(); // hash -> {state: "shown"|"gone"|"unread"|"", url}

/** fill gives each picture on the page its thumbnail, and lets go of those that
 * have left it. Painting takes what it sets away again, so it runs after each. */
export function fill() {
  const here = new Set();
  for (const image of document.querySelectorAll("img[data-photo]")) {
    const sha = image.dataset.photo;
    here.add(sha);
    if (shown.has(sha)) dress(image, shown.get(sha));
    else load(sha);
  }
  for (const [sha, { url }] of shown) {
    if (here.has(sha)) continue;
    if (url) URL.revokeObjectURL(url);
    shown.delete(sha);
  }
}

async function load(sha) {
  const one = { state: "", url: "" };
  shown.set(sha, one);
  try {
    const kept = await thumb(sha);
    if (shown.get(sha) !== one) return; // it has left the page, or was taken anew
    one.state = kept ? "shown" : "gone";
    if (kept) one.url = URL.createObjectURL(new Blob([kept.bytes], { type: "image/jpeg" }));
  } catch (error) {
    console.warn(error);
    one.state = "unread";
  }
  for (const image of document.querySelectorAll(`img[data-photo="${CSS.escape(sha)}"]`)) dress(image, one);
  if (one.state === "unread") shown.delete(sha); // the next painting tries again
}

function dress(image, { state, url }) {
  image.dataset.state = state;
  if (url && image.getAttribute("src") !== url) image.src = url;
}
