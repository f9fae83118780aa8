// tabs.js keeps several tabs of the app from writing across each other. The tab
// that the person looked at last writes; the others read. Correctness does not
// hang on it: the store itself refuses a place in the chain that is taken.

const lock = "strutcard-writer";
const channel = globalThis.BroadcastChannel ? new BroadcastChannel("strutcard") : null;

const patience = 3000; // ms; a browser may be slow to take the lock from a page that is gone

let leading = false;
let changed = () => {};

/** leader tells whether this tab writes. */
export const leader = () => leading;

/** announce tells the other tabs to look at the log again. It carries no data:
 * a tab that slept through it looks when it wakes. */
export function announce() { channel?.postMessage("look again"); }

/** follow calls look when another tab wrote, or when this tab's part changed. */
export function follow(look) {
  changed = look;
  channel?.addEventListener("message", () => look());
}

/** lead takes the lock from whoever holds it, even from a tab that is frozen.
 * It resolves once the outcome is known. Where the browser does not answer, the
 * tab writes: the store still guards. */
export function lead() {
  if (!navigator.locks) {
    leading = true; // this browser cannot tell; the store still guards
    return Promise.resolve();
  }
  if (leading) return Promise.resolve();
  return new Promise((resolve) => {
    const unanswered = setTimeout(() => { become(true); resolve(); }, patience);
    navigator.locks.request(lock, { steal: true }, () => {
      clearTimeout(unanswered);
      become(true);
      resolve();
      return new Promise(() => {}); // held until the page goes or another takes it
    }).catch((error) => {
      clearTimeout(unanswered);
      become(error.name !== "AbortError"); // AbortError: another tab took it
      resolve();
    });
  });
}

function become(now) {
  if (leading === now) return;
  leading = now;
  changed();
}
