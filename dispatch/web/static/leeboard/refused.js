// A page that comes back because something was refused is read on from there: from the first field that will not do,
// else from the sentence that says so.
'use strict';
(() => {
  const FIELD = ':is(input:not([type="hidden"]), select, textarea)';
  const told = document.querySelector('main .error[role="alert"]');
  const wrong = document.querySelector(`main :is(${FIELD}[aria-invalid="true"], fieldset.faulty ${FIELD})`);
  if (told) told.tabIndex = -1;
  (wrong ?? told)?.focus();
})();
