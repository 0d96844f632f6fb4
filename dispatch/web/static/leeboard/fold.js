// Parts marked to fold stand open; on a phone they close, but for one that an address points into or that tells a fault.
'use strict';
(() => {
  const PHONE = matchMedia('(max-width: 48rem)');
  const KEPT = '[aria-invalid="true"], .error';
  const parts = () => document.querySelectorAll('details.fold');

  // What an address names, with what is folded around it or under its heading laid open.
  function reveal(hash) {
    const named = hash.length > 1 && document.getElementById(decodeURIComponent(hash.slice(1)));
    if (!named) return null;
    const own = named.closest('section')?.querySelector(':scope > details');
    if (own && named.matches('h2, h3, section')) own.open = true;
    for (let one = named.closest('details'); one; one = one.parentElement.closest('details')) one.open = true;
    return named;
  }

  function lay() {
    for (const one of parts()) one.open = !PHONE.matches || Boolean(one.querySelector(KEPT));
    return reveal(location.hash);
  }

  document.addEventListener('click', (event) => {
    const link = event.target.closest('a[href^="#"]');
    if (link) reveal(link.hash);
  });
  window.addEventListener('hashchange', () => reveal(location.hash)?.scrollIntoView());
  window.addEventListener('beforeprint', () => parts().forEach((one) => { one.open = true; }));
  PHONE.addEventListener('change', lay);
  lay()?.scrollIntoView();
})();
