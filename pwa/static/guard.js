// guard.js is the one classic script: it runs before any module has arrived, and
// it works when every other file fails. It shows the last screen at once, shows
// the repair message if the app cannot start, and hides it if it starts after all.
(() => {
  "use strict";

  const built = null; // cmd/dev writes this line

  // built has what the repair message says in each other language: it must be able to
  // speak when no catalogue has come.
  const language = languageOf();
  const t = (text) => built[language]?.[text] ?? text;
  document.documentElement.lang = language;
  for (const element of document.querySelectorAll("[data-words]")) element.textContent = t(element.textContent);

  document.getElementById("r-bar").dataset.opening = t("Opening…");

  function languageOf() {
    const known = ["en", ...Object.keys(built)];
    let chosen = "";
    try { chosen = localStorage.getItem("sc-language") ?? ""; } catch { /* forbidden */ }
    return [chosen, ...navigator.languages.map((tag) => tag.split("-")[0])].find((tag) => known.includes(tag)) ?? "en";
  }

  // The theme and the picture of the last screen come from small storage; a
  // browser that refuses it, or a damaged picture, is no loss.
  function showLast() {
    try {
      const theme = localStorage.getItem("sc-theme");
      if (theme) document.documentElement.dataset.theme = theme;
      const regions = JSON.parse(localStorage.getItem("sc-snapshot") || "{}");
      for (const id of ["r-strip", "r-main", "r-bar"]) {
        const region = document.getElementById(id);
        region.inert = true; // nothing on it works yet
        if (regions[id]) region.innerHTML = regions[id];
      }
      return regions;
    } catch {
      return {};
    }
  }

  const snapshot = showLast();
  document.documentElement.toggleAttribute("data-opening", true);
  performance.mark("sc-snapshot");
  const patience = 20000; // ms; a slow phone needs about one second
  const besidePatience = 8000; // ms until compile.js says that it runs

  // What the app showed last may no longer be true, so it goes.
  function show(show) {
    document.getElementById("repair").hidden = !show;
    for (const id of ["r-strip", "r-main", "r-sheet", "r-bar"]) document.getElementById(id).hidden = show;
    if (show) document.getElementById("notice").hidden = true;
  }

  const beside = () => new Promise((yes, no) => {
    const worker = new Worker("/compile.js");
    const fail = (words) => {
      worker.terminate?.(); // else a slow link would carry the program twice
      no(new Error(words));
    };
    const deaf = setTimeout(() => fail("compile.js did not answer"), besidePatience);
    worker.onerror = () => fail("compile.js did not run");
    worker.onmessage = ({ data }) => {
      clearTimeout(deaf);
      if (data.module) yes(data.module);
      if (data.error) fail(data.error);
    };
  });

  // compile makes the program beside the page if it can, and else here.
  async function compile() {
    try {
      return await beside();
    } catch (error) {
      console.warn(error);
      const response = await fetch("/app.wasm");
      if (!response.ok) throw new Error(`app.wasm: ${response.status}`);
      return WebAssembly.compile(await response.arrayBuffer());
    }
  }

  // The program is fetched from here on, for boot.js. A preload in the page would
  // begin as soon, but WebKit does not use it: there the program came twice.
  const program = compile();
  program.catch(() => {}); // boot.js hears of it

  let ready = false;
  globalThis.guard = {
    language,
    snapshot,
    program,
    installing: null, // the browser's offer to put the app on the home screen
    ready() { ready = true; show(false); },
    broken(kept) {
      ready = true;
      show(true);
      if (!kept) document.getElementById("repair-safe").textContent = t("This browser stores nothing. Save a copy of the record now; a reload loses it.");
    },
  };

  addEventListener("beforeinstallprompt", (event) => {
    event.preventDefault(); // the app asks in a place of its own
    guard.installing = event;
  });

  // A version that does not start gives way to one that waits.
  async function reload() {
    const registration = await navigator.serviceWorker?.getRegistration().catch(() => undefined);
    if (!registration?.waiting) return location.reload();
    navigator.serviceWorker.addEventListener("controllerchange", () => location.reload());
    registration.waiting.postMessage({ do: "activate" });
    setTimeout(() => location.reload(), 3000);
  }

  function words(text) {
    document.getElementById("repair-words").textContent = text;
  }

  async function copy() {
    words(t("Reading the record…"));
    try {
      const { saveCopy } = await import("/copy.js");
      words(await saveCopy());
    } catch (error) {
      console.error(error);
      words(t("The copy could not be made. The record is still on this phone. Close the browser fully, open it again, and try once more."));
    }
  }

  document.getElementById("repair-reload").addEventListener("click", reload);
  document.getElementById("repair-copy").addEventListener("click", copy);
  // A script that cannot be fetched fires an error that only capture sees.
  addEventListener("error", (event) => {
    if (event.target instanceof HTMLScriptElement) show(true);
  }, true);
  setTimeout(() => { if (!ready) show(true); }, patience);
})();
