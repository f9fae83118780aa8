// Moves the secret from the link's fragment into the page's form and out of the
// address bar. Nothing is sent until a person presses the button: opening or
// previewing a link uses nothing up.
const form = document.querySelector('form[data-fragment]');
const code = location.hash.slice(1);

if (form && code) {
  form.elements[form.dataset.fragment].value = code;
  for (const field of form.querySelectorAll('[data-fragment-field]')) field.hidden = true;
  history.replaceState(null, '', location.pathname);
}
