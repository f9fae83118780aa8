// focus.js keeps the focus where somebody looks for it who goes through the page by
// keys, or hears it.

let places = []; // where the focus was last, outside the messages: the newest first
let keyed = false; // a Tab came after the last touch

addEventListener("focusin", ({ target }) => { if (!target.closest("#r-sheet")) places = [target, places[0]]; });
addEventListener("keydown", ({ key }) => { if (key === "Tab") keyed = true; }, true);
addEventListener("pointerdown", () => { keyed = false; }, true);

/** byKeys tells whether the person goes through the page by keys. */
export const byKeys = () => keyed;

/** beginning is where a screen begins for those who hear it or go by keys. */
export const beginning = () => document.querySelector("#r-main [data-ask]") ?? document.getElementById("r-main");

/** keepFocus gives the focus back when what had it is gone or was switched off for a
 * while: to where it was before, or to what is asked now. On a fresh screen nothing of
 * before counts. */
export function keepFocus(had, fresh) {
  if (document.activeElement !== document.body) return;
  const before = fresh ? [] : [had, ...places];
  for (const one of [...before.map(again), beginning()]) {
    if (document.activeElement === document.body) one?.focus({ preventScroll: true });
  }
}

// again is the same thing on the page of now, if it is there.
const again = (one) => (one?.isConnected ? one : document.getElementById(one?.id));

/** staysInView scrolls what had the focus, and was in view, back into view after a
 * change: what it returns is called then. */
export function staysInView() {
  const one = document.activeElement;
  const stays = keyed && one.matches(":not(body, [tabindex='-1'])") && inView(one);
  return () => {
    if (!stays || !one.isConnected) return;
    keepClear();
    one.scrollIntoView({ block: "nearest" });
  };
}

const inView = (one) => { const { top, bottom } = one.getBoundingClientRect(); return bottom > 0 && top < innerHeight; };

/** showFocus ends a press by keys: what has the focus is in view, and a message has it. */
export function showFocus() {
  if (!keyed) return;
  document.getElementById("dismiss")?.focus();
  keepClear();
  const one = document.activeElement;
  (one.id === "r-main" ? one.querySelector("h1") : one)?.scrollIntoView({ block: "nearest" });
}

// keepClear has the browser scroll what gets the focus out from under strip and foot.
// It follows their size by itself; to measure them at each paint would cost each press.
function keepClear() {
  const tight = top.offsetHeight + foot.offsetHeight > innerHeight * 0.6;
  document.documentElement.toggleAttribute("data-tight", tight);
  document.documentElement.style.scrollPadding = `${tight ? 0 : top.offsetHeight}px 0 ${foot.offsetHeight}px`;
}

const top = document.querySelector(".top");
const foot = document.querySelector(".foot");
const sizes = new ResizeObserver(keepClear);
for (const one of [top, foot]) if (one) sizes.observe(one);
