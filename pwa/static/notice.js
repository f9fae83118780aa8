// notice.js is the page's own line at the very top, for what Go cannot say:
// that it was restarted, or that the storage is in somebody's way.
import { keepFocus } from "./focus.js";
import { t } from "./words.js";

/** notice shows one line, with a button if one helps. "" takes it away. */
export function notice(text, button) {
  const line = document.getElementById("notice");
  const focused = line.contains(document.activeElement);
  line.replaceChildren();
  line.hidden = !text;
  if (focused) keepFocus();
  if (!text) return;
  const words = document.createElement("span");
  words.textContent = text;
  line.append(words, press(button ?? { label: t("Understood"), press: () => notice("") }));
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
export const reloading = { get label() { return t("Reload"); }, press: () => location.reload() };
