// A field for a sentence grows with what is written; Enter sends its form, as from a field of one line.
'use strict';
(() => {
  const FIELD = 'textarea.grows';
  const BY_ITSELF = CSS.supports('field-sizing', 'content');

  function fit(field) {
    if (BY_ITSELF) return;
    field.style.height = 'auto';
    field.style.height = `${field.scrollHeight + 2}px`;
  }

  document.addEventListener('keydown', (event) => {
    const field = event.target;
    if (event.key !== 'Enter' || event.shiftKey || event.isComposing || !field.matches(FIELD)) return;
    event.preventDefault();
    const button = field.form?.querySelector('button:not([type="button"])');
    if (button) field.form.requestSubmit(button);
  });
  document.addEventListener('input', (event) => { if (event.target.matches(FIELD)) fit(event.target); });
  document.querySelectorAll(FIELD).forEach(fit);
})();
