// clip.js copies a link when its button is pressed, on the phone and at the desk.

document.addEventListener("click", async (event) => {
  const button = event.target.closest?.("[data-copy]");
  if (!button) return;
  const link = document.getElementById(button.dataset.copy);
  let words = button.dataset.copied;
  try {
    await navigator.clipboard.writeText(link.value ?? link.textContent);
  } catch { // not allowed, or the page came without TLS
    words = button.dataset.byHand;
    if (link.select) link.select();
    else getSelection().selectAllChildren(link);
  }
  button.nextElementSibling.textContent = words;
});
