// On a phone the names of the pages stand in one row that is moved sideways: the page one is on is in sight. The row
// alone is moved, never the page: that may stand at what was refused.
'use strict';
(() => {
  const here = document.querySelector('.top nav [aria-current]');
  const row = here && here.closest('nav');
  if (!row) return;
  const middle = (one) => { const box = one.getBoundingClientRect(); return box.x + box.width / 2; };
  row.scrollLeft += middle(here) - middle(row);
})();
