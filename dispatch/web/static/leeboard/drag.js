// Drag a visit along the board, or move it by Shift and an arrow; the server says whether it fits. Without this
// script every visit leads to a page that does the same by a form.
'use strict';
(() => {
  const board = document.querySelector('svg.board[data-drop]');
  const told = document.getElementById('dropped');
  if (!board || !told) return;
  const NEAR_PX = 6, QUARTER = 15, DAY = 1440;
  let held = null, by = 0, from = null, asking = null;

  // A visit's link; film that is wet or sets leads to its Why too, but does not move.
  const visit = (target) => {
    const link = target.closest && target.closest('.strip a[href*="/why/"]');
    return link && link.querySelector('rect.hands') ? link : null;
  };
  const stage = (link) => link.getAttribute('href').split('/why/')[1].split('/')[0];
  const place = (link, dx) => link.setAttribute('transform', 'translate(' + dx + ' 0)');
  const scale = () => board.viewBox.baseVal.width / board.getBoundingClientRect().width;

  // Shows what the server says to the last question; an answer to one before it comes too late. Tells whether it was the last.
  async function answer(url, words) {
    forget();
    const mine = asking = new AbortController();
    told.textContent = words;
    try {
      const said = await fetch(url, { credentials: 'same-origin', signal: mine.signal });
      // Signed out meanwhile: the page itself leads to signing in, and back.
      if (said.redirected) return location.reload();
      if (!said.ok) throw new Error(String(said.status));
      const text = await said.text();
      if (mine !== asking) return false;
      told.innerHTML = text;
    } catch {
      if (mine !== asking) return false;
      told.textContent = 'The server did not answer. Nothing was changed: load the page again.';
    }
    asking = null;
    return true;
  }

  function forget() {
    if (asking) asking.abort();
    asking = null;
  }

  async function ask(link, query) {
    const url = board.dataset.drop.replace('STAGE', encodeURIComponent(stage(link)));
    const last = await answer(url + '?' + query, 'Asking whether it fits ...');
    if (last && !told.querySelector('[data-fits="yes"]')) place(link, 0);
  }

  const hull = (target) => target.closest && target.closest('a[href*="/ways/"]');
  const ways = (link) => answer(link.getAttribute('href') + '?part', 'Asking what turning or covering her does to the week: a few seconds ...');

  // The hull of the boat that a visit is on.
  function hullOf(link) {
    const job = stage(link).split('.')[0];
    return board.querySelector('a[href$="/ways/' + CSS.escape(job) + '/"]');
  }

  function settle() {
    if (from) place(from, 0);
    from = null;
  }

  board.addEventListener('pointerdown', (event) => {
    const link = visit(event.target);
    if (!link || event.button !== 0) return;
    held = { link, at: event.clientX, moved: false };
  });
  board.addEventListener('dragstart', (event) => event.preventDefault());
  window.addEventListener('pointermove', (event) => {
    if (!held) return;
    const dx = event.clientX - held.at;
    if (!held.moved && Math.abs(dx) < NEAR_PX) return;
    if (!held.moved) settle();
    held.moved = true;
    place(held.link, dx * scale());
  });
  window.addEventListener('pointerup', (event) => {
    if (!held) return;
    const { link, at, moved } = held;
    held = null;
    if (!moved) return;
    from = link;
    by = 0;
    const band = link.querySelector('rect');
    const x = Number(band.getAttribute('x')) + (event.clientX - at) * scale();
    board.addEventListener('click', (click) => click.preventDefault(), { once: true, capture: true });
    ask(link, 'x=' + x.toFixed(2));
  });
  window.addEventListener('pointercancel', () => {
    if (held) place(held.link, 0);
    held = null;
  });
  board.addEventListener('click', (event) => {
    const link = hull(event.target);
    if (!link || event.ctrlKey || event.metaKey) return;
    event.preventDefault();
    ways(link);
  });
  board.addEventListener('keydown', (event) => {
    const link = visit(event.target);
    const her = link && !event.ctrlKey && !event.metaKey && !event.altKey && /^[ct]$/i.test(event.key);
    if (her) {
      const way = hullOf(link);
      if (way) ways(way);
      else told.textContent = 'There is one way of doing her only: she can be neither turned nor covered.';
      return;
    }
    const steps = { ArrowLeft: -QUARTER, ArrowRight: QUARTER, ArrowUp: -DAY, ArrowDown: DAY };
    if (event.key === 'Escape') {
      forget();
      settle();
      told.textContent = '';
      by = 0;
      return;
    }
    const form = told.querySelector('[data-fits="yes"] form');
    if (event.key === 'Enter' && link && link === from && (form || asking)) {
      // While it is being asked Enter does nothing: it neither puts the visit nor leads away from it.
      event.preventDefault();
      if (form) form.requestSubmit();
      return;
    }
    if (!link || !event.shiftKey || !(event.key in steps)) return;
    event.preventDefault();
    if (from !== link) {
      settle();
      by = 0;
    }
    from = link;
    by += steps[event.key];
    ask(link, 'by=' + by);
  });
})();
