// store.js keeps the log in IndexedDB. Every write is one strict transaction
// and resolves when that transaction is complete, not before: a tick on the
// screen means that the event is on disk.

const name = "strutcard";
const version = 2;
const openPatience = 3000; // ms; some browsers never answer the first open
const writePatience = 10000; // ms until a write is aborted
const all = ["events", "meta"];

let opening = null; // the one open in flight or done; every caller shares it
let words = () => {}; // tells the person what is in the way

/** onTrouble sets who hears about a storage that is held up: (kind) => void. */
export function onTrouble(tell) { words = tell; }

/** openStore opens the database, or rejects. Callers share one open. */
export async function openStore() {
  await database();
  return store;
}

function database() {
  opening ??= open().catch((error) => { opening = null; throw error; });
  return opening;
}

function open() {
  return new Promise((resolve, reject) => {
    const request = indexedDB.open(name, version);
    const timer = setTimeout(() => reject(named("TimeoutError", "open: no answer")), openPatience);
    request.onupgradeneeded = (event) => {
      upgrade(request.result, request.transaction, event.oldVersion);
      if (event.oldVersion === 0) words("new");
    };
    request.onblocked = () => { clearTimeout(timer); words("blocked"); }; // it goes on once the other tab is closed
    request.onerror = () => { clearTimeout(timer); reject(request.error); };
    request.onsuccess = () => { clearTimeout(timer); resolve(watch(request.result)); };
  });
}

// upgrade goes from any version ever released to this one, a step for each.
function upgrade(db, tx, from) {
  if (from < 1) {
    const events = db.createObjectStore("events", { keyPath: "pos", autoIncrement: true });
    events.createIndex("id", "id", { unique: true });
    events.createIndex("job", "job");
    events.createIndex("pending", "pending");
    db.createObjectStore("meta");
  }
  const events = tx.objectStore("events");
  if (from === 1) for (const index of ["chain", "device"]) events.deleteIndex(index);
  if (from < 2) events.createIndex("chain", ["job", "device", "seq"]); // two events may hold one place
}

// watch forgets a handle that the browser closed, and gives way to a newer
// version in another tab.
function watch(db) {
  db.onclose = () => { opening = null; };
  db.onversionchange = () => { db.close(); opening = null; words("newer"); };
  return db;
}

function named(name, message) {
  const error = new Error(message);
  error.name = name;
  return error;
}

// stale names what a handle throws, or a transaction dies of, after the phone
// has slept: nothing was written, and a fresh handle may work.
const stale = ["InvalidStateError", "UnknownError", "TransactionInactiveError"];

// transact runs work in one transaction; on a stale handle it reopens and tries
// once more. Trying again is safe: a transaction that died left nothing behind.
async function transact(stores, mode, work) {
  const mine = database();
  const db = await mine;
  try {
    return await finish(begin(db, stores, mode), work);
  } catch (error) {
    if (!stale.includes(error.name)) throw error;
    if (opening === mine) opening = null; // unless another caller has reopened already
    db.close();
    return finish(begin(await database(), stores, mode), work);
  }
}

function begin(db, stores, mode) {
  return db.transaction(stores, mode, mode === "readwrite" ? { durability: "strict" } : undefined);
}

// finish settles with the transaction: a commit that fails fires only abort.
// A hung write is aborted; if it proves complete after all, it is complete.
function finish(tx, work) {
  return new Promise((resolve, reject) => {
    let result;
    let cause = null;
    const timer = setTimeout(() => stop(named("TimeoutError", "no answer from storage")), writePatience);
    const stop = (error) => {
      cause = error;
      try { tx.abort(); } catch { setTimeout(() => reject(error), 2000); }
    };
    tx.oncomplete = () => { clearTimeout(timer); resolve(result); };
    tx.onabort = () => { clearTimeout(timer); reject(cause ?? tx.error ?? named("AbortError", "transaction aborted")); };
    Promise.resolve(work(tx)).then((value) => { result = value; }, stop);
  });
}

/** asked turns a request into a promise; the transaction stays alive through its chain. */
function asked(request) {
  return new Promise((resolve, reject) => {
    request.onsuccess = () => resolve(request.result);
    request.onerror = () => reject(request.error);
  });
}

const reading = (work) => transact(all, "readonly", (tx) => work(tx.objectStore("events"), tx.objectStore("meta")));
const writing = (work) => transact(all, "readwrite", (tx) => work(tx.objectStore("events"), tx.objectStore("meta")));

// put adds one line unless its id is taken.
async function put(events, line, pending) {
  const { id, job, device, seq } = JSON.parse(line);
  const same = await asked(events.index("id").get(id));
  if (same) return same.line === line ? "duplicate" : "conflict:id";
  await asked(events.add({ id, job, device, seq, line, pending: pending ? 1 : 0 }));
  return "stored";
}

// write also refuses a place in a chain that another event holds.
async function write(events, line) {
  const { id, job, device, seq } = JSON.parse(line);
  const known = await asked(events.index("id").count(id));
  if (!known && await asked(events.index("chain").count([job, device, seq]))) return "conflict:seq";
  return put(events, line, true);
}

async function settle(events, verdict) {
  const record = await asked(events.index("id").get(verdict.id));
  if (!record) return;
  record.pending = 0;
  if (verdict.outcome === "refused") record.refused = verdict;
  await asked(events.put(record));
}

async function forget(events) {
  for (const record of await asked(events.getAll())) {
    record.pending = 1;
    delete record.refused;
    await asked(events.put(record));
  }
}

/** linesOf reads the fitting sheets, then every event in order of arrival, as the
 * lines of a saved copy. */
export async function linesOf(events, meta) {
  const sheets = await asked(meta.getAll(IDBKeyRange.bound("sheet.", "sheet/", false, true)));
  const records = await asked(events.getAll());
  return [...sheets.map((body) => `{"sheet":${body}}`), ...records.map((r) => r.line)];
}

/** store is the log's half of the seam, as boot.js describes it. */
const store = {
  write: (lines) => writing(async (events) => {
    const outcomes = [];
    for (const line of lines) outcomes.push(await write(events, line));
    return outcomes;
  }),

  take: (text) => writing(async (events, meta) => {
    const change = JSON.parse(text);
    for (const [key, value] of Object.entries(change.was)) {
      if (((await asked(meta.get(key))) ?? "") !== value) return "moved";
    }
    if (change.forget) await forget(events);
    for (const verdict of change.verdicts) await settle(events, verdict);
    const outcomes = [];
    for (const line of change.lines) outcomes.push(await put(events, line, change.carry));
    for (const [key, value] of Object.entries(change.meta)) await asked(meta.put(value, key));
    return outcomes;
  }),

  job: (job) => reading(async (events) => {
    const records = await asked(events.index("job").getAll(job));
    return records.map((r) => r.line).join("\n");
  }),

  jobs: () => reading(async (events) => {
    if (await asked(events.count()) === 0) return []; // WebKit cannot open a "nextunique" cursor over nothing
    const firsts = [];
    const request = events.index("job").openKeyCursor(null, "nextunique");
    await new Promise((resolve, reject) => {
      request.onerror = () => reject(request.error);
      request.onsuccess = () => {
        const cursor = request.result;
        if (!cursor) return resolve();
        firsts.push([cursor.primaryKey, cursor.key]);
        cursor.continue();
      };
    });
    return firsts.sort((a, b) => a[0] - b[0]).map(([, job]) => job);
  }),

  pending: (limit) => reading(async (events) => {
    const records = await asked(events.index("pending").getAll(1, limit));
    return records.map((r) => r.line).join("\n");
  }),

  waiting: () => reading((events) => asked(events.index("pending").count(1))),

  troubled: () => reading(async (events) => {
    const records = await asked(events.getAll());
    return JSON.stringify(records.filter((r) => r.refused).map((r) => r.refused));
  }),

  meta: (key) => reading(async (_, meta) => (await asked(meta.get(key))) ?? ""),

  setMeta: (key, value) => writing((_, meta) => asked(meta.put(value, key))),

  /** lines returns what a saved copy holds, for one without Go. */
  lines: () => reading(linesOf),
};
