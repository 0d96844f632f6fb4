// Drag a visit along the board, or move it by Shift and an arrow; the server says whether it fits. Without this
// script every visit leads to a page that does the same by a form.
'use strict';
(() => {
  const board = document.querySelector('svg.board[data-drop]');
  const told = document.getElementById('dropped');
  if (!board || !told) return;
  const NEAR_PX = 6, QUARTER = 15, DAY = 1440;
  let held = null, by = 0, from = null;

  const visit = (target) => target.closest && target.closest('.strip a[href*="/why/"]');
  const stage = (link) => link.getAttribute('href').split('/why/')[1].replace(/\/$/, '');
  const place = (link, dx) => link.setAttribute('transform', 'translate(' + dx + ' 0)');
  const scale = () => board.viewBox.baseVal.width / board.getBoundingClientRect().width;

  async function ask(link, query) {
    told.textContent = 'Asking whether it fits ...';
    const url = board.dataset.drop.replace('STAGE', encodeURIComponent(stage(link)));
    try {
      const answer = await fetch(url + '?' + query, { credentials: 'same-origin' });
      if (!answer.ok) throw new Error(String(answer.status));
      told.innerHTML = await answer.text();
      if (!told.querySelector('[data-fits="yes"]')) place(link, 0);
    } catch {
      told.textContent = 'The server did not answer. Nothing was changed: load the page again.';
      place(link, 0);
    }
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
  board.addEventListener('keydown', (event) => {
    const link = visit(event.target);
    const steps = { ArrowLeft: -QUARTER, ArrowRight: QUARTER, ArrowUp: -DAY, ArrowDown: DAY };
    if (event.key === 'Escape') {
      settle();
      told.textContent = '';
      by = 0;
      return;
    }
    const form = told.querySelector('[data-fits="yes"] form');
    if (event.key === 'Enter' && link && link === from && form) {
      event.preventDefault();
      form.requestSubmit();
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
