// idb.js runs the compiled test of pwa/browser in this page and leaves its
// output in window.__out and its exit code in window.__done.
import { openStore } from "/store.js";
import { memoryStore } from "/memory.js";

const realOpen = indexedDB.open.bind(indexedDB);
const realTransaction = IDBDatabase.prototype.transaction;

let handle = null; // the newest handle that store.js got
let opens = 0;
let writes = [];
let failure = "";

indexedDB.open = (...args) => {
  opens++;
  const request = realOpen(...args);
  request.addEventListener("success", () => { handle = request.result; });
  return request;
};

IDBDatabase.prototype.transaction = function (stores, mode, options) {
  const tx = realTransaction.call(this, stores, mode, options);
  if (mode !== "readwrite") return tx;
  writes.push(options?.durability === "strict" ? tx.durability ?? "strict" : "not asked");
  if (failure) failCommit(tx, failure);
  failure = "";
  return tx;
};

// failCommit aborts after the requests have succeeded, as a full disk does.
function failCommit(tx, name) {
  Object.defineProperty(tx, "error", { value: new DOMException("made by the test", name) });
  const events = tx.objectStore("events");
  const add = events.add.bind(events);
  tx.objectStore = (store) => (store === "events" ? events : IDBTransaction.prototype.objectStore.call(tx, store));
  events.add = (value) => {
    const request = add(value);
    request.addEventListener("success", () => tx.abort());
    return request;
  };
}

globalThis.host = {};
globalThis.harness = {
  async fresh(kind) {
    if (kind === "memory") {
      host.log = memoryStore();
      return true;
    }
    host.log = await openStore();
    await empty();
    return true;
  },
  closeHandle: () => handle.close(),
  failNextWrite: (name) => { failure = name; },
  watchDurability: () => { writes = []; },
  durabilities: () => writes.join(","),
  watchOpens: () => { opens = 0; },
  opens: () => opens,
};

function empty() {
  return new Promise((resolve, reject) => {
    const tx = realTransaction.call(handle, ["events", "meta"], "readwrite");
    tx.objectStore("events").clear();
    tx.objectStore("meta").clear();
    tx.oncomplete = resolve;
    tx.onabort = () => reject(tx.error);
  });
}

window.__out = "";
const decoder = new TextDecoder();
globalThis.fs.writeSync = (_, bytes) => {
  window.__out += decoder.decode(bytes);
  return bytes.length;
};
globalThis.fs.write = (fd, bytes, offset, length, position, done) => {
  globalThis.fs.writeSync(fd, bytes.subarray(offset, offset + length));
  done(null, length);
};

const go = new Go();
go.argv = ["test", "-test.v", ...new URLSearchParams(location.search).getAll("arg")];
go.exit = (code) => { window.__done = code; };
try {
  const { instance } = await WebAssembly.instantiate(await (await fetch("/browser.test.wasm")).arrayBuffer(), go.importObject);
  await go.run(instance);
  window.__done ??= 0;
} catch (error) {
  window.__out += `\n${error.stack}`;
  window.__done = 99;
}
document.getElementById("out").textContent = window.__out;
