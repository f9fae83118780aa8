// copy.js hands over every line of the record without Go: for the repair message.
import { openStore } from "./store.js";
import { download } from "./host.js";

/** saveCopy offers a file of all lines and says in words what happened. */
export async function saveCopy() {
  const log = globalThis.host?.log ?? await openStore(); // the one in use may be in memory only
  const lines = await log.lines();
  if (lines.length === 0) return "There is no record on this phone to copy.";
  const day = new Date().toISOString().slice(0, 10);
  await download(`strutcard-all-${day}.jsonl.txt`, "text/plain", lines.join("\n") + "\n");
  return `The copy holds ${lines.length} entries. Keep it somewhere safe.`;
}
