// store.js keeps the log in IndexedDB. Every write is one strict transaction
// and resolves when that transaction is complete, not before: a tick on the
// screen means that the event is on disk.

const name = "strutcard";
const version = 1;
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
      upgrade(request.result);
      if (event.oldVersion === 0) words("new");
    };
    request.onblocked = () => words("blocked");
    request.onerror = () => { clearTimeout(timer); reject(request.error); };
    request.onsuccess = () => { clearTimeout(timer); resolve(watch(request.result)); };
  });
}

function upgrade(db) {
  const events = db.createObjectStore("events", { keyPath: "pos", autoIncrement: true });
  events.createIndex("id", "id", { unique: true });
  events.createIndex("chain", ["job", "device", "seq"], { unique: true });
  events.createIndex("job", "job");
  events.createIndex("device", "device");
  events.createIndex("pending", "pending");
  db.createObjectStore("meta");
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

// put adds one line unless its id or its place in a chain is taken.
async function put(events, line, pending, received, actor) {
  const { id, job, device, seq } = JSON.parse(line);
  const same = await asked(events.index("id").get(id));
  if (same) return same.line === line ? "duplicate" : "conflict:id";
  if (await asked(events.index("chain").getKey([job, device, seq]))) return "conflict:seq";
  await asked(events.add({ id, job, device, seq, line, pending: pending ? 1 : 0, received, actor }));
  return "stored";
}

const recordText = (r) => `{"event":${r.line},"pos":${r.pos},"received_at":${r.received},"actor":${JSON.stringify(r.actor)}}`;

/** store is the log's half of the seam, as boot.js describes it. */
const store = {
  append: (actor, lines, pending, received) => writing(async (events) => {
    const outcomes = [];
    for (const line of lines) outcomes.push(await put(events, line, pending, received, actor));
    return outcomes;
  }),

  job: (job) => reading(async (events) => {
    const records = await asked(events.index("job").getAll(job));
    return records.map((r) => r.line).join("\n");
  }),

  jobs: () => reading(async (events) => {
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

  after: (job, device, pos, limit) => reading(async (events) => {
    const mine = device && new Set((await asked(events.index("device").getAll(device))).map((r) => r.job));
    const found = [];
    for (let last = pos; found.length < limit;) {
      const page = await asked(events.getAll(IDBKeyRange.lowerBound(last, true), 500));
      if (page.length === 0) break;
      last = page[page.length - 1].pos;
      found.push(...page.filter((r) => (!job || r.job === job) && (!mine || mine.has(r.job))));
    }
    return `[${found.slice(0, limit).map(recordText).join(",")}]`;
  }),

  pending: (limit) => reading(async (events) => {
    const records = await asked(events.index("pending").getAll(1, limit));
    return records.map((r) => r.line).join("\n");
  }),

  waiting: () => reading((events) => asked(events.index("pending").count(1))),

  settle: (text) => writing(async (events) => {
    for (const verdict of JSON.parse(text)) {
      const record = await asked(events.index("id").get(verdict.id));
      if (!record) continue;
      record.pending = 0;
      if (verdict.outcome === "refused") record.refused = verdict;
      await asked(events.put(record));
    }
  }),

  adopt: (text) => writing(async (events) => {
    for (const r of JSON.parse(text)) await put(events, r.line, false, r.received, r.actor);
  }),

  forget: (device) => writing(async (events) => {
    for (const record of await asked(events.index("device").getAll(device))) {
      record.pending = 1;
      delete record.refused;
      await asked(events.put(record));
    }
  }),

  troubled: () => reading(async (events) => {
    const records = await asked(events.getAll());
    return JSON.stringify(records.filter((r) => r.refused).map((r) => r.refused));
  }),

  meta: (key) => reading(async (_, meta) => (await asked(meta.get(key))) ?? ""),

  setMeta: (key, value) => writing((_, meta) => asked(meta.put(value, key))),

  /** lines returns every line in order of arrival, for a copy without Go. */
  lines: () => reading(async (events) => (await asked(events.getAll())).map((r) => r.line)),
};
