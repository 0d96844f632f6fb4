// Copy a field's text by its button; without this script the field can be marked and copied by hand.
'use strict';
(() => {
  const told = document.getElementById('copied');

  async function copy(button) {
    const field = document.getElementById(button.dataset.copy);
    field.focus();
    field.select();
    try {
      await navigator.clipboard.writeText(field.value);
      button.textContent = 'Copied';
    } catch {
      // The browser may refuse where the page came without TLS: the text stands marked.
      button.textContent = 'Marked: press Ctrl-C';
    }
    told.textContent = button.textContent + ': ' + button.getAttribute('aria-label');
  }

  for (const button of document.querySelectorAll('[data-copy]')) {
    button.hidden = false;
    button.addEventListener('click', () => copy(button));
  }
})();
