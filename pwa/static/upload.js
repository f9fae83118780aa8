// upload.js carries photos between this phone and the shop: what the server lacks
// goes up, what the log names and this phone lacks comes down. One picture at a
// time and piece by piece, so that it takes little memory and a cut costs little.
// Where to go on is the server's word, never this page's count.
import { adopt, hash, mark, picture, size, survey, thumbs } from "./media.js";
import { t } from "./words.js";

const most = 64 << 10; // bytes of a piece
const least = 8 << 10;
const largest = 5 << 20; // bytes of a picture that is fetched
const patience = 20000; // ms for a piece: at 2 kB/s about 40 kB
const tries = 3; // of one piece, before the next sync has its turn
const firstWait = 15000; // ms until a picture that has not reached the server is asked for again
const lastWait = 900000;

let piece = most; // halved when one does not go through, doubled when it goes quickly
let running = false;
let state = { done: 0, of: 0, bytesDone: 0, bytesOf: 0, trouble: "" };
const strays = new Set(); // hashes that no record on the server names: never recorded, or not synced yet
const waits = new Map(); // hash -> {wait, until}

/** photos is the part of the seam that Go asks about photos. */
export const photos = { size: (sha) => { look(); return size(sha); }, send, progress: () => state };

let server = ""; // epoch of the one that was spoken to last

// look counts without asking anybody, for a phone that has no signal for days.
const look = () => survey().then((all) => running || count(all, server)).catch(() => {}); // send says what is wrong
setTimeout(look, 3000); // once the app has started

/** send carries everything that it can; it returns at once when it is at work
 * already. What stands in the way is in the state, for Go to show. */
async function send(token, epoch, wanted) {
  if (running) return;
  running = true;
  server = epoch;
  state = { ...state, trouble: "" };
  try {
    await upload(token, epoch);
    await download(token, epoch, wanted);
  } catch (error) {
    console.warn(error);
    state.trouble ||= error.words ?? (error.name === "QuotaExceededError" ? full() : unread());
  } finally {
    running = false;
  }
}

const notNow = () => t("The shop takes no photos just now. They are safe on this phone and go by themselves later.");
const full = () => t("This phone has no room for more photos. The record is safe, and it syncs without them.");
const unread = () => t("The photos of this phone cannot be read just now. The record is safe, and it syncs without them.");
const spoilt = () => t("A photo is damaged on this phone and was not sent. The record is safe; it says that the photo was taken.");

// failure carries a kind as our server names it, and words for the person. One
// without a kind is no answer: the same may be tried again.
const failure = (kind, words) => Object.assign(new Error(kind || "no answer"), { kind, words });

// count tells how far the pictures of this phone are. Those that came from the
// server are not among them.
function count(all, epoch, at = 0) {
  const mine = all.filter((one) => !one.got && !strays.has(one.sha));
  const done = mine.filter((one) => one.epoch && (one.epoch === epoch || !epoch || !one.here));
  const sum = (some) => some.reduce((bytes, one) => bytes + one.bytes, 0);
  const refused = mine.find((one) => one.refused === epoch);
  state = { done: done.length, of: mine.length, bytesDone: sum(done) + at, bytesOf: sum(mine), trouble: refused?.words ?? state.trouble };
}

// upload asks about every picture that is not known to be on this server, so that
// one which came back from a backup gets them again.
async function upload(token, epoch) {
  const all = await survey();
  for (const one of all) {
    count(all, epoch);
    if (!one.here || one.epoch === epoch || one.refused === epoch) continue;
    strays.delete(one.sha);
    try {
      await carry(one.sha, token, (at) => count(all, epoch, at));
      one.epoch = epoch;
    } catch (error) {
      if (error.kind === "not_found") {
        strays.add(one.sha);
        continue;
      }
      if (error.kind !== "invalid" && error.kind !== "too_large") throw error;
      Object.assign(one, { refused: epoch, words: error.words });
    }
    const { here, ...known } = one;
    await mark(known);
  }
  count(all, epoch);
}

async function carry(sha, token, tell) {
  let now = await ask("HEAD", sha, token);
  if (now.whole) return;
  const { bytes } = await picture(sha);
  if (await hash(bytes) !== sha) throw failure("invalid", spoilt());
  for (let stuck = 0; !now.whole;) {
    tell(now.at);
    const was = now.at;
    now = await insist(async (again) => {
      if (again) now = await ask("HEAD", sha, token);
      return ask("PATCH", sha, token, {
        headers: { "Content-Type": "application/partial-upload", "Upload-Offset": now.at },
        body: new Uint8Array(bytes, now.at, Math.min(piece, bytes.byteLength - now.at)),
      });
    });
    stuck = now.at > was ? 0 : stuck + 1;
    if (stuck === tries) throw failure("busy", "");
  }
}

// insist does the work for one piece, again with a smaller one when no answer
// came, and learns from it how large the next may be.
async function insist(work) {
  for (let failed = 0; ; ) {
    const start = performance.now();
    try {
      const result = await work(failed > 0);
      if (performance.now() - start < patience / 4) piece = Math.min(most, piece * 2);
      return result;
    } catch (error) {
      if (error.kind || ++failed === tries) throw error;
      piece = Math.max(least, piece / 2);
    }
  }
}

// ask returns where the server stands, also when it did not want the piece. An
// answer that does not say so is not our server's.
async function ask(method, sha, token, more) {
  const { response, body } = await call(method, sha, token, more);
  const at = response.headers.get("Upload-Offset");
  if (at !== null && (response.ok || response.status === 409)) return { at: Number(at), whole: response.headers.get("Upload-Complete") === "?1" };
  throw refusal(response, body);
}

async function call(method, sha, token, { headers, body } = {}) {
  try {
    const response = await fetch(`/api/v1/photos/${sha}`, {
      method, body, headers: { ...headers, Authorization: `Bearer ${token}` },
      credentials: "omit", cache: "no-store", redirect: "error", signal: AbortSignal.timeout(patience),
    });
    return { response, body: await response.arrayBuffer() };
  } catch {
    throw failure("", "");
  }
}

// refusal puts an answer into words. Only our own server's JSON is believed.
function refusal(response, body) {
  try {
    const { kind, message, hint } = JSON.parse(new TextDecoder().decode(body));
    if (kind && message) return failure(kind, `${message} ${hint}`);
  } catch {} // not even JSON
  return failure(response.status === 404 ? "not_found" : "unreachable", notNow());
}

// download fetches what other phones of the job took. A picture that has not
// reached the server is asked for again, ever more seldom.
async function download(token, epoch, wanted) {
  const here = new Set(await thumbs());
  for (const sha of wanted) {
    const { wait = firstWait, until = 0 } = waits.get(sha) ?? {};
    if (here.has(sha) || Date.now() < until) continue;
    try {
      const bytes = await bring(sha, token);
      if (await hash(bytes) !== sha) throw failure("not_found", "");
      await adopt(sha, bytes, epoch);
    } catch (error) {
      if (error.kind !== "not_found") throw error;
      waits.set(sha, { wait: Math.min(wait * 2, lastWait), until: Date.now() + wait });
    }
  }
}

async function bring(sha, token) {
  const parts = [];
  for (let at = 0, whole = 1; at < whole;) {
    const part = await insist(async () => {
      const { response, body } = await call("GET", sha, token, { headers: { Range: `bytes=${at}-${at + piece - 1}` } });
      whole = Number(response.headers.get("Content-Range")?.split("/")[1]);
      if (response.status !== 206 || !(whole <= largest) || body.byteLength === 0) throw refusal(response, body);
      return body;
    });
    at += part.byteLength;
    parts.push(part);
  }
  return new Blob(parts).arrayBuffer();
}
