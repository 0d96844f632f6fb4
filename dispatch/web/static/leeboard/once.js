// A form is sent once: a second tap while the first is under way does nothing.
'use strict';
(() => {
  // An answer that is a file leaves the page as it is, and the form is to be used again.
  const AGAIN_MS = 5000;

  document.addEventListener('submit', (event) => {
    const form = event.target;
    if (form.method !== 'post' || event.defaultPrevented) return;
    if (form.dataset.sent) {
      event.preventDefault();
      return;
    }
    form.dataset.sent = 'yes';
    setTimeout(() => delete form.dataset.sent, AGAIN_MS);
  });

  // Back from the next page: the browser may show this one as it was left.
  window.addEventListener('pageshow', () => {
    for (const form of document.querySelectorAll('form[data-sent]')) delete form.dataset.sent;
  });
})();
