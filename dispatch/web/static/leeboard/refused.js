// A page that comes back because something was refused is read on from there: from the first field that will not do,
// else from the sentence that says so.
'use strict';
(() => {
  const FIELD = ':is(input:not([type="hidden"]), select, textarea)';
  const WRONG = `main :is(${FIELD}[aria-invalid="true"], fieldset.faulty ${FIELD})`;

  function look() {
    const told = document.querySelector('main .error[role="alert"]');
    if (told) told.tabIndex = -1;
    (document.querySelector(WRONG) ?? told)?.focus();
  }

  document.addEventListener('main-again', look);
  look();
})();
