// how.js gives the page of formulas the theme of the app.
try {
  const name = localStorage.getItem("sc-theme");
  if (name) document.documentElement.dataset.theme = name;
} catch { /* forbidden: as the phone has it */ }
