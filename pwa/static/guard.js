// guard.js is the one classic script: it must work when every other file fails.
// It shows the repair message if the app cannot start, and hides it if the app
// starts after all.
(() => {
  "use strict";
  const patience = 20000; // ms; a slow phone needs about one second

  function show(show) {
    const repair = document.getElementById("repair");
    if (repair) repair.hidden = !show;
    for (const id of ["r-main", "r-bar"]) {
      const region = document.getElementById(id);
      if (region) region.hidden = show;
    }
  }

  let ready = false;
  globalThis.guard = {
    ready() { ready = true; show(false); },
    broken() { ready = true; show(true); },
  };

  function words(text) {
    document.getElementById("repair-words").textContent = text;
  }

  async function copy() {
    words("Reading the record…");
    try {
      const { saveCopy } = await import("/copy.js");
      words(await saveCopy());
    } catch (error) {
      console.error(error);
      words("The copy could not be made. The record is still on this phone. Close the browser fully, open it again, and try once more.");
    }
  }

  document.addEventListener("DOMContentLoaded", () => {
    document.getElementById("repair-reload").addEventListener("click", () => location.reload());
    document.getElementById("repair-copy").addEventListener("click", copy);
  });
  // A script that cannot be fetched fires an error that only capture sees.
  addEventListener("error", (event) => {
    if (event.target instanceof HTMLScriptElement) show(true);
  }, true);
  setTimeout(() => { if (!ready) show(true); }, patience);
})();
