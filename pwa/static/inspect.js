// inspect.js looks at the phone afresh: what is needed to work without a signal.
// It answers "yes", "no", or "" for what could not be found out.
import { usable } from "./media.js";
import { checkFiles } from "./update.js";

const howPage = "/how.html";
const patience = 15000; // ms

const word = (found) => (found === null || found === undefined ? "" : found ? "yes" : "no");

// quietly gives null for whatever fails, is not there, or does not answer.
function quietly(look) {
  const late = new Promise((resolve) => setTimeout(resolve, patience, null));
  return Promise.race([Promise.resolve().then(look).catch(() => null), late]);
}

/** inspect is the seam's function of that name. free is in bytes, -1 for unknown. */
export async function inspect() {
  const [missing, how, persisted, photos, room] = await Promise.all([
    quietly(checkFiles),
    quietly(async () => Boolean(await caches.match(howPage))),
    quietly(() => navigator.storage.persisted()),
    quietly(() => usable().then(() => true, () => false)),
    quietly(() => navigator.storage.estimate()),
  ]);
  return {
    files: word(missing && missing.length === 0),
    how: word(missing && how && !missing.includes(howPage)),
    persisted: word(persisted),
    photos: word(photos),
    free: room?.quota === undefined ? -1 : Math.max(0, room.quota - (room.usage ?? 0)),
  };
}
