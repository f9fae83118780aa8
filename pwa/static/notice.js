// notice.js is the page's own line at the very top, for what Go cannot say:
// that it was restarted, or that the storage is in somebody's way.

/** notice shows one line, with a button if one helps. "" takes it away. */
export function notice(text, button) {
  const line = document.getElementById("notice");
  line.replaceChildren();
  line.hidden = !text;
  if (!text) return;
  const words = document.createElement("span");
  words.textContent = text;
  line.append(words, press(button ?? { label: "Understood", press: () => notice("") }));
}

function press({ label, press }) {
  const button = document.createElement("button");
  button.type = "button";
  button.className = "second";
  button.textContent = label;
  button.addEventListener("click", press);
  return button;
}

/** reloading is the button for what only a fresh page mends. */
export const reloading = { label: "Reload", press: () => location.reload() };
