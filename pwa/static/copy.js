// copy.js hands over every line of the record without Go: for the repair message.
import { linesOf } from "./store.js";
import { download } from "./host.js";
import { t } from "./words.js";

/** saveCopy offers a file of all lines and says in words what happened. */
export async function saveCopy() {
  const all = await lines();
  const entries = all.filter((line) => !line.startsWith('{"sheet":')).length;
  if (entries === 0) return t("There is no record on this phone to copy.");
  const day = new Date().toISOString().slice(0, 10);
  await download(`strutcard-all-${day}.jsonl.txt`, "text/plain", all.join("\n") + "\n");
  return t("The copy holds %s entries. Keep it somewhere safe.", entries);
}

// lines prefers the log in use, which may be in memory only.
async function lines() {
  try {
    return await globalThis.host.log.lines();
  } catch (error) {
    console.warn(error);
    return readAsItIs();
  }
}

// readAsItIs takes the database at whatever version it has: an app that is too old
// to use it must still hand the record over.
function readAsItIs() {
  return new Promise((resolve, reject) => {
    const request = indexedDB.open("strutcard");
    request.onupgradeneeded = () => request.transaction.abort(); // there is none, and none is made
    request.onerror = () => (request.error.name === "AbortError" ? resolve([]) : reject(request.error));
    request.onsuccess = () => {
      const tx = request.result.transaction(["events", "meta"]);
      linesOf(tx.objectStore("events"), tx.objectStore("meta")).then(resolve, reject).finally(() => request.result.close());
    };
  });
}
